// The strip of days: one shape a day, told apart without colour. Filled: it counted. Hollow:
// it did not. A cut corner: the wait began anew. A bar above: it is done.

import { html } from '../parts/html.js';
import { dayName } from '../parts/when.js';
import { runsOf, shownDays } from './strip-days.js';
import { tanks as t } from '../../text/en-tanks.js';

/** @typedef {import('./picture-state.js').DayMark} DayMark */

/** Each shape in a box of 14, with room for the bar above. */
const shapes = {
  quiet: { d: 'M2 4H12V14H2Z', full: true },
  paused: { d: 'M3 5H11V13H3Z', full: false },
  restarted: { d: 'M2 4H7L12 9V14H2Z', full: true },
  done: { d: 'M2 4H12V14H2ZM2 0H12V2H2Z', full: true },
  unwatched: { d: 'M5 8H9V10H5Z', full: true },
  stopped: { d: 'M3 5L11 13M11 5L3 13', full: false },
  today: { d: 'M7 4.5A4.5 4.5 0 1 1 7 13.5A4.5 4.5 0 1 1 7 4.5Z', full: false },
};

/** The shape that stands before the word of a state. */
const ofState = { waiting: 'today', paused: 'paused', stopped: 'stopped', done: 'done' };

/** @param {{kind: DayMark['kind'], x?: number, y?: number}} props */
const Shape = ({ kind, x = 0, y = 0 }) => html`<path class=${`mark ${kind}${shapes[kind].full ? ' full' : ''}`} d=${shapes[kind].d} transform=${x || y ? `translate(${x} ${y})` : undefined} />`;

/** @param {{kind: DayMark['kind'], size?: number}} props */
export const Mark = ({ kind, size = 16 }) => html`<svg class="day-mark" width=${size} height=${size} viewBox="0 0 14 15" aria-hidden="true"><${Shape} kind=${kind} /></svg>`;

/**
 * A state in its word, with its shape.
 * @param {{state: import('./picture-state.js').SystemState['state'] | undefined}} props
 */
export function StateWord({ state }) {
  if (!state) return html`<span class="state" data-state="unknown">${t.notReckoned}</span>`;
  const shape = /** @type {Record<string, DayMark['kind']>} */ (ofState)[state];
  return html`<span class="state" data-state=${state}>${shape && html`<${Mark} kind=${shape} />`} ${t.states[state]}</span>`;
}

const MOST = 28;
const WIDE = 12;

/**
 * The days in words: "3 Dec began anew, 4 Dec to 9 Dec quiet".
 * @param {DayMark[]} days
 * @param {string} today
 */
export const inWords = (days, today) => runsOf(days).map(({ kind, from, to }) => t.run(dayName(from, today), dayName(to, today), t.kinds[kind])).join(', ');

/**
 * The last days on one line, for a row of a list.
 * @param {{days: DayMark[], today: string, from?: string | null, most?: number}} props
 */
export function Strip({ days, today, from, most = MOST }) {
  const list = shownDays(days, most, from);
  if (list.length === 0) return null;
  const width = list.length * WIDE + 2;
  return html`<svg class="strip" width=${width} height="16" viewBox=${`0 0 ${width} 16`} role="img" aria-label=${t.stripOf(list.length, inWords(list, today))} data-days=${list.map(({ kind }) => kind[0].toUpperCase()).join('')}>
    ${list.map(({ day, kind }, i) => html`<${Shape} key=${day} kind=${kind} x=${i * WIDE} />`)}
  </svg>`;
}

/** How many days the large strip shows at a time: eight weeks. */
const LONG = 56;

/**
 * Every day with its date, for the page of a system or specimen.
 * @param {{days: DayMark[], today: string, from?: string | null}} props
 */
export function LongStrip({ days, today, from }) {
  const list = shownDays(days, LONG, from);
  const out = shownDays(days, days.length, from).length - list.length;
  if (list.length === 0) return html`<p class="soft">${t.stripNone}</p>`;
  return html`${out > 0 && html`<p class="soft">${t.earlier(out)}</p>`}
    <ol class="long-strip" aria-label=${t.strip}>${list.map(({ day, kind, why }, i) => html`<li key=${day} data-day=${day} data-kind=${kind}>
      <${Mark} kind=${kind} size="24" />
      <span aria-hidden="true">${i === 0 || day.endsWith('-01') ? html`<b>${monthOf(day)}</b>` : ''}${Number(day.slice(8))}</span>
      <span class="unseen">${dayName(day, today)}: ${[t.kinds[kind], ...new Set((why ?? []).map((one) => t.causes[one.why] ?? one.why))].join(', ')}</span>
    </li>`)}</ol>
    <${Legend} kinds=${new Set(list.map(({ kind }) => kind))} />`;
}

/** @param {string} day */
const monthOf = (day) => `${dayName(day, day).split(' ')[2]} `;

/** @param {{kinds?: Set<DayMark['kind']>}} props those that are on the screen; all without */
export function Legend({ kinds }) {
  const list = /** @type {DayMark['kind'][]} */ (Object.keys(shapes)).filter((kind) => !kinds || kinds.has(kind));
  return html`<details class="shapes"><summary>${t.legend.title}</summary>
    <ul>${list.map((kind) => html`<li key=${kind}><${Mark} kind=${kind} size="20" /> <span>${t.legend[kind]}</span></li>`)}</ul></details>`;
}
