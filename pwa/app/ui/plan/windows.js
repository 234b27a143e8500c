// The list of windows, or why there is none.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { state } from '../../core.js';
import { announce } from '../parts/announce.js';
import { addDays, dayAndClock, knowsZone, localDay } from '../parts/when.js';
import { failure, shown } from './plan-state.js';
import { shore, today } from './shore-state.js';
import { WindowRow } from './window-row.js';
import { text } from '../../text/en.js';

export function Windows() {
  const at = /** @type {import('./shore-state.js').Shore} */ (shore.value);
  const list = shown.value;
  const stopped = state.value === 'failed' || state.value === 'mismatch';
  const says = failure.value ? `${text.plan.failed} ${failure.value.message}`
    : !list ? (stopped ? text.plan.failed : text.plan.reckoning)
    : list.keptAt ? `${text.plan.kept(dayAndClock(list.keptAt, at.zone))} ${stopped ? '' : text.plan.again}`
    : list.answer.windows.length ? text.plan.found(list.answer.windows.length)
    : '';
  useEffect(() => announce(says), [says]);

  const none = list?.answer.none;
  const now = today(at);
  const light = list ? byDay(list.lit, at.zone) : new Map();
  /**
   * @param {any} w
   * @param {import('./plan-state.js').Stretch[] | undefined} lit
   */
  const row = (w, lit) => html`<${WindowRow} key=${w.usableFrom} window=${w} zone=${at.zone} today=${now} lit=${lit} />`;
  return html`<section class="windows" aria-labelledby="windows" aria-busy=${!list && !failure.value} data-question=${list?.question} data-kept=${String(Boolean(list?.keptAt))}>
    <h2 class="unseen" id="windows">${text.plan.listTitle}</h2>
    <p class=${failure.value ? 'wrong' : 'soft'}>${says} ${list && (knowsZone(at.zone) ? text.window.zone(at.zone) : text.window.zoneUtc)}</p>
    ${list?.answer.cautions.length > 0 && html`<ul class="heed">${list?.answer.cautions.map((/** @type {any} */ c) => html`<li>${c.text}</li>`)}</ul>`}
    ${none && html`<p class="none">${none.text}</p>`}
    ${none?.next && html`<p>${text.window.next}</p><ol>${row(none.next, undefined)}</ol>`}
    <ol>${list?.answer.windows.map((/** @type {any} */ w) => row(w, light.get(w.day) ?? []))}</ol>
  </section>`;
}

/**
 * The stretches of light that touch each local day; near the poles one may touch months.
 * @param {import('./plan-state.js').Stretch[]} lit
 * @param {string} zone
 */
function byDay(lit, zone) {
  /** @type {Map<string, import('./plan-state.js').Stretch[]>} */
  const days = new Map();
  for (const stretch of lit) {
    const last = localDay(Date.parse(stretch.to), zone);
    for (let day = localDay(Date.parse(stretch.from), zone); day <= last; day = addDays(day, 1)) {
      days.set(day, [...(days.get(day) ?? []), stretch]);
    }
  }
  return days;
}
