// Which days, and which windows of them. Closed it says in one line what is asked.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { addDays, dayName, duration, level } from '../parts/when.js';
import { ask, asked, days, LEAST, RAISE, today } from './plan-state.js';
import { FIRST_DAY, isDay, LAST_DAY } from './reckoned-days.js';
import { text } from '../../text/en.js';

/** Minutes worth going for. */
const LEASTS = [20, 30, 40, 60, 90, 120];

/** @typedef {import('../../data/choices.js').Asked} Asked */

export function AskForm() {
  const t = text.ask;
  const bad = useSignal(false);
  const now = asked.value;
  const { from, to } = days.value;
  const dates = t.days(dayName(from, today.value), dayName(addDays(to, -1), today.value));
  const summary = t.summary(dates, [
    ...(now.weekends ? [t.onlyWeekends] : []), ...(now.mornings ? [t.onlyMornings] : []),
    // What is as it always was goes without saying.
    ...(now.light === 'sun' ? [] : [t.lights[now.light]]), ...(now.least === LEAST ? [] : [t.leastOf(duration(now.least))]), t.orders[now.order],
  ]);

  // Phones ignore min and max of a date input, so the day is checked here as well.
  /** @param {Event} event */
  const setFrom = (event) => {
    const { value } = /** @type {HTMLInputElement} */ (event.target);
    bad.value = !isDay(value);
    if (!bad.value) ask({ from: value === today.value ? '' : value });
  };
  const caution = t.lightCautions[now.light];

  return html`<details class="ask" open=${matchMedia('(min-width: 900px)').matches}>
    <summary><span class="ask-title">${t.title}</span> <span class="soft">${summary}</span></summary>
    <div class="ask-fields">
      <label>${t.from} <input type="date" name="from" value=${from} min=${FIRST_DAY} max=${LAST_DAY} onChange=${setFrom}
        aria-invalid=${bad.value} aria-describedby="ask-from" /></label>
      <label>${t.length} <${Choice} name="days" value=${now.days} of=${t.lengths} set=${(/** @type {string} */ v) => ask({ days: Number(v) })} /></label>
      <p id="ask-from" class=${bad.value ? 'wrong wide' : 'soft wide'}>${bad.value ? t.badDate : dates}</p>
      ${now.from !== '' && html`<button type="button" class="quiet wide" data-do="today" onClick=${() => ask({ from: '' })}>${t.today}</button>`}
      <label class="check"><input type="checkbox" name="weekends" checked=${now.weekends}
        onChange=${(/** @type {any} */ e) => ask({ weekends: e.target.checked })} /> ${t.weekends}</label>
      <label class="check"><input type="checkbox" name="mornings" checked=${now.mornings}
        onChange=${(/** @type {any} */ e) => ask({ mornings: e.target.checked })} /> <span>${t.mornings} <span class="soft">${t.morningsHint}</span></span></label>
      <label>${t.least} <${Choice} name="least" value=${now.least} of=${Object.fromEntries(LEASTS.map((n) => [n, duration(n)]))}
        set=${(/** @type {string} */ v) => ask({ least: Number(v) })} /></label>
      <label>${t.order} <${Choice} name="order" value=${now.order} of=${t.orders}
        set=${(/** @type {string} */ v) => ask({ order: /** @type {Asked['order']} */ (v) })} /></label>
      <p class="soft wide">${t.orderHint(level(RAISE))}</p>
      <label class="wide">${t.light} <${Choice} name="light" value=${now.light} of=${t.lights}
        set=${(/** @type {string} */ v) => ask({ light: /** @type {Asked['light']} */ (v) })} /></label>
      ${caution && html`<p class="heed wide">${caution}</p>`}
    </div>
  </details>`;
}

/** @param {{name: string, value: string | number, of: Record<string, string>, set: (value: string) => void}} props */
function Choice({ name, value, of, set }) {
  return html`<select name=${name} value=${String(value)} onChange=${(/** @type {any} */ event) => set(event.target.value)}>
    ${Object.entries(of).map(([key, words]) => html`<option value=${key} selected=${key === String(value)}>${words}</option>`)}
  </select>`;
}
