// One window: the day, what of it is usable, when to start back. It opens its day.

import { html } from '../parts/html.js';
import { clock, dayName, duration, level, metres, monthName, nearestClock } from '../parts/when.js';
import { Link } from '../parts/link.js';
import { follow } from '../route.js';
import { ChooseBox } from './chosen.js';
import { ClosedNotes } from './closed-notes.js';
import { isGrave } from './notes.js';
import { RAISE, today } from './plan-state.js';
import { RowCurve } from './row-curve.js';
import { text } from '../../text/en.js';

/** @typedef {import('./notes.js').Note} Note */

/**
 * @param {{window: any, shore: import('./shore-state.js').Shore, strips: import('./plan-state.js').Strip[], said: Note[]}} props
 *   said are the cautions that stand above the list
 */
export function WindowRow({ window: w, shore, strips, said }) {
  const t = text.window;
  /** @param {string} instant */
  const at = (instant) => clock(instant, shore.zone);
  const name = dayName(w.day, today.value);
  const to = `/plan/day/${w.day}`;
  const grave = w.cautions.filter((/** @type {Note} */ note) => isGrave(note) && note.code !== 'raised_none' && !said.some(({ code }) => code === note.code));
  return html`<li class="window" data-day=${w.day} data-usable-from=${w.usableFrom} data-usable-to=${w.usableTo}
      data-start-back=${w.startBack} data-off-by=${w.offBy}>
    <div class="top">
      <h3><${Link} to=${to}><span class="day">${name}</span> <span class="long">${duration(w.usableMinutes)}</span>
        <span class="usable">${t.usable(at(w.usableFrom), at(w.usableTo))}</span><//></h3>
      <${ChooseBox} shore=${shore} window=${w} />
    </div>
    <${ClosedNotes} window=${w} zone=${shore.zone} />
    <a class="picture" href=${to} tabindex="-1" aria-hidden="true" onClick=${follow}><${RowCurve} window=${w} zone=${shore.zone} below=${shore.below} strips=${strips} /></a>
    <p>${t.low(metres(w.low.height), nearestClock(w.low.time, shore.zone))}${w.leaveHome !== w.usableFrom && ` · ${t.leaveHome(at(w.leaveHome))}`}</p>
    <p class="back"><strong>${t.startBack} ${at(w.startBack)}</strong> <span class="off">${t.offBy} ${at(w.offBy)}</span></p>
    <p class="raised">${w.raised ? t.raised(level(RAISE), duration(w.raised.usableMinutes)) : t.raisedNone(level(RAISE))}</p>
    ${grave.length > 0 && html`<ul class="heed">${grave.map((/** @type {Note} */ note) => html`<li data-caution=${note.code}>${note.text}</li>`)}</ul>`}
    <details><summary>${reasonLine(w)}</summary><${Reasons} window=${w} zone=${shore.zone} /></details>
  </li>`;
}

/**
 * What speaks for a window, in one line.
 * @param {any} w
 */
function reasonLine(w) {
  const t = text.window;
  const words = [
    w.rank && t.rank(w.rank.place, monthName(Number(w.rank.month.slice(5)), 'short')), w.moon && t.moons[w.moon.kind], w.weekend && t.weekend,
  ].filter(Boolean);
  return words.length ? words.join(' · ') : t.why;
}

/**
 * Every reason and every caution, in the core's words.
 * @param {{window: any, zone: string}} props
 */
export function Reasons({ window: w, zone }) {
  const t = text.window;
  /** @param {string | null} instant */
  const at = (instant) => instant && clock(instant, zone);
  return html`<ul class="points">
    <li>${t.bare(at(w.opens), at(w.shuts))} ${t.lit(/** @type {string} */ (at(w.litFrom)), /** @type {string} */ (at(w.litTo)))}</li>
    ${w.reasons.map((/** @type {Note} */ note) => html`<li>${note.text}</li>`)}
    ${w.cautions.map((/** @type {Note} */ note) => html`<li class="caution" data-caution=${note.code}>${note.text}</li>`)}
  </ul>`;
}
