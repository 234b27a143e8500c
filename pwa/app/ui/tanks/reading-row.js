// One reading in a list: what it was, how it stands to its range by shape and word, its age.

import { html } from '../parts/html.js';
import { now } from '../parts/now.js';
import { alkalinityUnit, numberOf, rangeOf, rangeWords, shownOf, stands, words } from './tank-ranges.js';
import { estimate } from './tank-salinities.js';
import { water as t } from '../../text/en-tank-water.js';

/** @typedef {import('./reading-kinds.js').Kind} Kind */

/** @param {{kind: Kind, value: any, ranges: import('./tank-ranges.js').Ranges, at?: string, of?: string}} props at: when; of: where it was read, if elsewhere */
export function ReadingRow({ kind, value, ranges, at, of }) {
  const range = rangeOf(kind, ranges);
  const shown = range && /** @type {[number, number]} */ (range.map((x) => shownOf(kind, x)));
  const unit = kind === 'alkalinity' ? alkalinityUnit(ranges, value.unit) : undefined;
  const e = kind === 'salinity' ? estimate(value) : undefined;
  const is = kind === 'salinity' ? e?.salinity : numberOf(kind, value, unit);
  const how = is === undefined ? 'none' : stands(is, shown, e ?? undefined);
  return html`<li data-kind=${kind} data-stands=${how}>
    <span class="kind">${t.kinds[kind]}</span>
    <strong>${is === undefined ? t.notReckoned : words(kind, is, unit)}</strong>
    ${how !== 'none' && html`<span class="stands"><${Shape} how=${how} /> ${t.within[how]}</span>`}
    <span class="soft">${[range ? t.tank.target(rangeWords(kind, range, unit)) : t.tank.targetNone, e && t.chart.doubt(words(kind, e.least), words(kind, e.most)), of && t.tank.of(of)].filter(Boolean).join(' · ')}</span>
    ${at && html`<span class="age">${t.tank.age(Math.floor((now.value - Date.parse(at)) / 60_000))}</span>`}
  </li>`;
}

/** @param {{how: ReturnType<typeof stands>}} props */
const Shape = ({ how }) => html`<svg class="stand-shape" viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">${how === 'in' ? html`<circle cx="8" cy="8" r="6" />`
  : how === 'high' ? html`<path d="M8 1l7 13h-14z" />` : how === 'low' ? html`<path d="M8 15l7 -13h-14z" />` : html`<circle class="hollow" cx="8" cy="8" r="5" />`}</svg>`;
