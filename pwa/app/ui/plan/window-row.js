// One window: the day, what of it is usable, when to start back.

import { html } from '../parts/html.js';
import { clock, dayName, duration, level, metres } from '../parts/when.js';
import { DayBar } from './day-bar.js';
import { RAISE } from './plan-state.js';
import { text } from '../../text/en.js';

/** @param {{window: any, zone: string, today: string, lit?: import('./plan-state.js').Stretch[]}} props */
export function WindowRow({ window: w, zone, today, lit }) {
  const t = text.window;
  /** @param {string} instant */
  const at = (instant) => clock(instant, zone);
  const raise = level(RAISE);
  return html`<li class="window" data-day=${w.day} data-usable-from=${w.usableFrom} data-usable-to=${w.usableTo}
      data-start-back=${w.startBack} data-off-by=${w.offBy}>
    <h3><span class="day">${dayName(w.day, today)}</span>
      <span class="usable">${t.usable(at(w.usableFrom), at(w.usableTo))}</span>
      <span class="long">${duration(w.usableMinutes)}</span></h3>
    <${DayBar} window=${w} zone=${zone} lit=${lit} />
    <p>${t.low(metres(w.low.height), at(w.low.time))}</p>
    <p class="back"><strong>${t.startBack} ${at(w.startBack)}</strong><span class="off">${t.offBy} ${at(w.offBy)}</span></p>
    ${w.leaveHome !== w.usableFrom && html`<p>${t.leaveHome} ${at(w.leaveHome)}</p>`}
    <p class="soft">${t.bare(w.opens && at(w.opens), w.shuts && at(w.shuts))} · ${t.lit(at(w.litFrom), at(w.litTo))}</p>
    ${w.reasons?.length > 0 && html`<p class="reasons">${w.reasons.map((/** @type {any} */ r) => r.text).join(' · ')}</p>`}
    <p class="raised">${w.raised ? t.raised(raise, duration(w.raised.usableMinutes)) : t.raisedNone(raise)}</p>
    ${w.cautions?.length > 0 && html`<ul class="heed">${w.cautions.map((/** @type {any} */ c) => html`<li>${c.text}</li>`)}</ul>`}
  </li>`;
}
