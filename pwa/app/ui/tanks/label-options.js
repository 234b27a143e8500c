// What kind of sheet the labels are on, how many, and what they say of where they come from.

import { html } from '../parts/html.js';
import { GRIDS } from './label-grid.js';
import { paper } from '../../text/en-tank-paper.js';

/** What the household's own sheet begins with, as typed. */
export const LEAST_OWN = { paper: /** @type {'a4' | 'letter'} */ ('a4'), columns: '2', rows: '5', width: '90', height: '52', left: '15', top: '18.5', gapX: '0', gapY: '0' };

/** @typedef {import('./label-page.js').Options} Options */
/** @typedef {(change: Partial<Options>, own?: Record<string, string>) => void} Set own: parts of the household's own sheet */

/** @param {{is: Options, set: Set, wrong: Record<string, string>}} props */
export function LabelOptions({ is, set, wrong }) {
  const t = paper.labels;
  return html`<form class="label-options screen" onSubmit=${(/** @type {Event} */ e) => e.preventDefault()} novalidate>
    <div class="field"><label for="size">${t.size}</label>
      <select id="size" value=${is.size} onChange=${(/** @type {any} */ e) => set({ size: e.target.value, used: '0' })}>
        ${Object.entries(t.sizes).map(([size, words]) => html`<option value=${size} selected=${size === is.size}>${words}</option>`)}
      </select></div>
    ${!(is.size in GRIDS) && html`<${Own} is=${is} set=${set} wrong=${wrong} />`}
    <div class="pair">
      <${Typed} id="copies" label=${t.copies} value=${is.copies} set=${(/** @type {string} */ copies) => set({ copies })} wrong=${wrong.copies} />
      <${Typed} id="used" label=${t.used} value=${is.used} set=${(/** @type {string} */ used) => set({ used })} wrong=${wrong.used} />
    </div>
    <fieldset class="field" data-choices="origin"><legend>${t.origin}</legend>
      ${(/** @type {const} */ (['none', 'words', 'shore'])).map((how) => html`<label class="check"><input type="radio" name="origin" value=${how} checked=${is.origin === how} onChange=${() => set({ origin: how })} /><span>${t.origins[how]}</span></label>`)}
      ${is.origin !== 'none' && html`<p class="soft">${t.originNote}</p>`}
    </fieldset>
    ${is.origin === 'words' && html`<${Typed} id="region" label=${t.region} hint=${t.regionHint} words value=${is.region} set=${(/** @type {string} */ region) => set({ region })} wrong=${wrong.region} />`}
  </form>`;
}

/** @param {{is: Options, set: Set, wrong: Record<string, string>}} props */
function Own({ is, set, wrong }) {
  const t = paper.labels;
  const own = (/** @type {Record<string, string>} */ change) => set({}, change);
  return html`<fieldset class="field label-own"><legend>${t.sizes.own}</legend>
    <div class="field"><label for="own-paper">${paper.paperOf}</label><select id="own-paper" value=${is.own.paper} onChange=${(/** @type {any} */ e) => own({ paper: e.target.value })}>
      ${Object.entries(paper.papers).map(([name, words]) => html`<option value=${name} selected=${name === is.own.paper}>${words}</option>`)}</select></div>
    ${Object.entries(t.parts).map(([part, words]) => html`<${Typed} id=${part} label=${part === 'columns' || part === 'rows' ? words : `${words}, ${t.mm}`} value=${/** @type {any} */ (is.own)[part]}
      set=${(/** @type {string} */ typed) => own({ [part]: typed })} wrong=${wrong[part]} />`)}
  </fieldset>`;
}

/** @param {{id: string, label: string, hint?: string, words?: boolean, value: string, set: (typed: string) => void, wrong?: string}} props */
function Typed({ id, label, hint, words = false, value, set, wrong }) {
  return html`<div class="field"><label for=${id}>${label}</label>
    ${hint && html`<p id=${id + '-hint'} class="soft">${hint}</p>`}
    <input id=${id} type="text" inputmode=${words ? 'text' : 'decimal'} autocomplete="off" value=${value} onInput=${(/** @type {any} */ e) => set(e.target.value)} aria-invalid=${Boolean(wrong)}
      aria-describedby=${`${hint ? id + '-hint ' : ''}${id}-wrong`} />
    <p id=${id + '-wrong'} class="wrong">${wrong}</p></div>`;
}
