// Which days: from when, for how long.

import { html } from '../parts/html.js';
import { addDays, dayName } from '../parts/when.js';
import { span, days, chooseSpan } from './plan-state.js';
import { shore, today } from './shore-state.js';
import { useSignal } from '@preact/signals';
import { text } from '../../text/en.js';

export function SpanForm() {
  const bad = useSignal(false);
  const at = /** @type {import('./shore-state.js').Shore} */ (shore.value);
  const now = today(at);
  const { from, to } = days(at, span.value);
  const t = text.span;

  // Phones ignore min and max of a date input, so the day is checked here as well.
  /** @param {Event} event */
  const setFrom = (event) => {
    const value = /** @type {HTMLInputElement} */ (event.target).value;
    bad.value = !/^(19\d\d|20\d\d|2100)-\d\d-\d\d$/.test(value);
    if (!bad.value) chooseSpan({ ...span.value, from: value });
  };
  /** @param {Event} event */
  const setDays = (event) => chooseSpan({ ...span.value, days: Number(/** @type {HTMLSelectElement} */ (event.target).value) });

  return html`<fieldset class="span">
    <legend>${t.legend}</legend>
    <label>${t.from} <input type="date" name="from" value=${from} min="1900-01-01" max="2100-12-31" onChange=${setFrom}
      aria-invalid=${bad.value} aria-describedby="span-says" /></label>
    <label>${t.length} <select name="days" value=${span.value.days} onChange=${setDays}>
      ${Object.entries(t.lengths).map(([n, words]) => html`<option value=${n}>${words}</option>`)}
    </select></label>
    ${span.value.from !== '' && html`<button type="button" class="quiet" onClick=${() => chooseSpan({ ...span.value, from: '' })}>${t.today}</button>`}
    <p id="span-says" class=${bad.value ? 'wrong' : 'soft'}>${bad.value ? t.badDate : t.shown(dayName(from, now), dayName(addDays(to, -1), now))}</p>
  </fieldset>`;
}
