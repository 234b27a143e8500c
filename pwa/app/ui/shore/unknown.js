// What helps to name something later: names that it may have, and what lies beside it for
// its size.

import { html } from '../parts/html.js';
import { MOST } from './find-fields.js';
import { text } from '../../text/en.js';

/** @param {{of: {scale: string, candidates: string}, set: (change: any) => void, unknown: boolean, wrong?: string}} props */
export function UnknownFields({ of, set, unknown, wrong }) {
  const t = text.photo;
  return html`<div class="field"><label for="scale">${t.scale}</label>
      <input id="scale" type="text" maxlength=${MOST.scale} autocomplete="off" value=${of.scale} onInput=${(/** @type {any} */ e) => set({ scale: e.target.value })} /></div>
    ${unknown && html`<div class="field"><label for="candidates">${t.candidates}</label><p id="candidates-hint" class="soft">${t.candidatesHint}</p>
      <textarea id="candidates" rows="3" aria-describedby="candidates-hint candidates-wrong" aria-invalid=${Boolean(wrong)} value=${of.candidates} onInput=${(/** @type {any} */ e) => set({ candidates: e.target.value })}></textarea>
      <p id="candidates-wrong" class="wrong">${wrong}</p></div>`}`;
}
