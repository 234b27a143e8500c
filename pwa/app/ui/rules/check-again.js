// "Checked again today": who read the source, and that it says the same.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { MOST_BY } from './checked-form.js';
import { TextIn, Tick, toWrong } from './inputs.js';
import { sourceWords } from './says-list.js';
import { setRules, today } from './on-file.js';
import { rules } from '../../text/en-rules.js';

/** @param {{one: import('./on-file.js').OnFile}} props */
export function CheckAgain({ one }) {
  const t = rules.set;
  const open = useSignal(false);
  const by = useSignal('');
  const read = useSignal(false);
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const says = useSignal('');
  const show = () => {
    open.value = true;
    says.value = '';
    requestAnimationFrame(() => document.getElementById('again-by')?.focus());
  };
  /** @param {Event} event */
  const keep = async (event) => {
    event.preventDefault();
    const who = by.peek().trim();
    wrong.value = {
      ...(!who ? { 'again-by': rules.check.needBy } : Array.from(who).length > MOST_BY ? { 'again-by': rules.check.tooLong(MOST_BY) } : {}),
      ...(read.peek() ? {} : { 'again-read': t.againNeed }),
    };
    if (Object.keys(wrong.value).length > 0) {
      announce(Object.values(wrong.value).join(' '));
      return wrong.value['again-by'] ? toWrong() : document.getElementById('again-read')?.focus();
    }
    says.value = (await setRules(one.id, { checked: { on: today.peek(), by: who } })) ? t.againDone : rules.unkept;
    announce(says.value);
    open.value = read.value = false;
    requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector('[data-do="again"]'))?.focus());
  };
  if (!open.value) return html`<div class="again"><button type="button" data-do="again" onClick=${show}>${t.again}</button><p class="soft">${says.value}</p></div>`;
  return html`<form onSubmit=${keep} novalidate class="again" data-form="again"><h2>${t.again}</h2>
    <p>${t.againWhat}</p><p><strong>${sourceWords(one.document)}</strong></p>
    <${TextIn} id="again-by" label=${rules.check.by} value=${by.value} set=${(/** @type {string} */ typed) => (by.value = typed)} wrong=${wrong.value['again-by']} />
    <${Tick} id="again-read" label=${t.againRead} checked=${read.value} set=${(/** @type {boolean} */ is) => (read.value = is)} />
    <p class="wrong">${wrong.value['again-read']}</p>
    <button type="submit" data-do="keep-again">${t.again}</button></form>`;
}
