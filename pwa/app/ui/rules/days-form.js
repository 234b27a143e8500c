// For how many days a check counts. A keeper sets it.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { counts, isKeeper, setCounts } from './on-file.js';
import { TextIn, toWrong } from './inputs.js';
import { rules } from '../../text/en-rules.js';

/** As internal/book has it. */
const MOST = { text: 730, closure: 30 };

export function DaysForm() {
  const t = rules.days;
  const w = useSignal(/** @type {Record<'text' | 'closure', string> | undefined} */ (undefined));
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const says = useSignal('');
  const { text, closure } = counts.value;
  const shown = w.value ?? { text: String(text), closure: String(closure) };
  /** @param {Event} event */
  const keep = async (event) => {
    event.preventDefault();
    wrong.value = Object.fromEntries(/** @type {const} */ (['text', 'closure']).filter((of) => !/^\d{1,4}$/.test(shown[of].trim()) || Number(shown[of]) < 1 || Number(shown[of]) > MOST[of])
      .map((of) => [`days-${of}`, t.need(MOST[of])]));
    if (Object.keys(wrong.value).length > 0) return toWrong();
    says.value = (await setCounts({ text: Number(shown.text), closure: Number(shown.closure) })) ? t.kept : rules.unkept;
    announce(says.value);
    w.value = undefined;
  };
  return html`<details class="more" data-days><summary>${t.title}</summary>
    <p>${t.is(text, closure)}</p>
    ${isKeeper.value ? html`<form onSubmit=${keep} novalidate data-form="days"><div class="pair">
      ${/** @type {const} */ (['text', 'closure']).map((of) => html`<${TextIn} key=${of} id=${`days-${of}`} label=${t[of]} mode="numeric" value=${shown[of]}
        set=${(/** @type {string} */ typed) => (w.value = { ...shown, [of]: typed })} wrong=${wrong.value[`days-${of}`]} />`)}</div>
      <p class="soft">${says.value}</p>
      <button type="submit" class="quiet" data-do="keep-days">${t.keep}</button></form>` : html`<p class="soft">${t.keeper}</p>`}
  </details>`;
}
