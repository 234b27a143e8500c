// The staff, drawn: its blocks, the water where it is predicted to stand, the marks.

import { html } from '../parts/html.js';
import { level, metres } from '../parts/when.js';
import { useWidth } from '../parts/width.js';
import { waterHeight } from '../parts/units.js';
import { nearest } from './clocks.js';
import { SLACK } from './now-limits.js';
import { blocksOf, figuresOf, spread, staffFor } from './staff-marks.js';
import { text } from '../../text/en.js';
import { metresPerUnit } from '../../text/unit.js';

/** Lower on an outing, so that what is to be touched stands under it without a scroll. */
const HEIGHT = 372;
const LOW_HEIGHT = 270;
const POST = { left: 60, width: 44 };
const LABELS = POST.left + POST.width + 22;
const APART = 27;
const MARKER_LETTERS = 20;

/**
 * Which way the water goes, in the words of the page.
 * @param {number} rateMPerHour
 * @returns {'rising' | 'falling' | 'turning'}
 */
export const trendOf = (rateMPerHour) => (Math.abs(rateMPerHour) < SLACK ? 'turning' : rateMPerHour > 0 ? 'rising' : 'falling');

/**
 * @param {{shore: import('../../data/shore-record.js').Shore, water: {heightM: number, rateMPerHour: number},
 *   low: {ms: number, heightM: number} | undefined, small?: boolean}} props
 */
export function StaffDrawing({ shore, water, low, small }) {
  const height = small ? LOW_HEIGHT : HEIGHT;
  const t = text.staff.water;
  const { ref, width } = useWidth(358);
  const trend = trendOf(water.rateMPerHour);
  const marks = [
    ...(shore.wayOff === null ? [] : [{ name: 'cut', heightM: shore.wayOff, says: t.cut(level(shore.wayOff)) }]),
    { name: 'below', heightM: shore.below, says: t.below(level(shore.below)) },
    ...(shore.marker ? [{ name: 'marker', heightM: shore.marker.heightM, says: t.marker(cut(shore.marker.what), level(shore.marker.heightM)) }] : []),
    ...(low ? [{ name: 'low', heightM: low.heightM, says: t.low(metres(low.heightM), nearest(low.ms)) }] : []),
    { name: 'now', heightM: water.heightM, says: `${waterHeight(water.heightM)} ${t.trends[trend]}` },
  ].sort((a, b) => b.heightM - a.heightM);
  // Divided in tenths of what this phone shows heights in: metres or feet.
  const per = metresPerUnit();
  const staff = staffFor(marks.map(({ heightM }) => heightM / per));
  const pxPerUnit = height / (staff.top - staff.bottom);
  const at = (/** @type {number} */ units) => (staff.top - units) * pxPerUnit;
  const y = (/** @type {number} */ m) => at(m / per);
  // The water's own words stand above its line, which would strike them through, or below it at the top.
  const off = y(water.heightM) < 34 ? 19 : -15;
  const labels = spread(marks.map(({ name, heightM }) => y(heightM) + (name === 'now' ? off : 0)), APART, 16, height - 12);
  const surface = y(water.heightM);
  return html`<div ref=${ref} class="staff-drawing">
    <svg viewBox="0 0 ${width} ${height}" role="img" aria-label=${t.drawing(marks.map(({ says }) => says))}
        data-level=${water.heightM} data-surface=${surface} data-trend=${trend}>
      <rect class="sea" x="0" y=${surface} width=${width} height=${Math.max(0, height - surface)} />
      ${blocksOf(staff).map(({ from, to, filled }) => html`<rect class=${filled ? 'block filled' : 'block'}
        x=${POST.left} y=${at(to)} width=${POST.width} height=${at(from) - at(to)} />`)}
      ${figuresOf(staff, pxPerUnit).filter((one) => at(one) > 10 && at(one) < height - 6).map((one) => html`<text class="figure" x=${POST.left - 8} y=${at(one) + 7} text-anchor="end">${level(one * per)}</text>`)}
      <line class="surface" x1=${POST.left} x2=${width} y1=${surface} y2=${surface} />
      ${marks.filter(({ name }) => name !== 'now').map(({ name, heightM }) => html`<line class=${`mark ${name}`} x1=${POST.left - 6} x2=${POST.left + POST.width + 8} y1=${y(heightM)} y2=${y(heightM)} />`)}
      ${marks.map(({ name, heightM, says }, i) => html`<g class=${`label ${name}`} data-mark=${name} data-y=${y(heightM)}>
        ${name !== 'now' && html`<path d="M${POST.left + POST.width + 8} ${y(heightM)}L${LABELS - 4} ${labels[i]}" />`}
        ${name === 'now' && html`<${Arrow} trend=${trend} x=${LABELS + 8} y=${labels[i]} />`}
        <text x=${LABELS + (name === 'now' ? 26 : 2)} y=${labels[i] + 7}>${says}</text>
      </g>`)}
    </svg>
  </div>`;
}

/** @param {{trend: string, x: number, y: number}} props */
function Arrow({ trend, x, y }) {
  const d = trend === 'turning' ? 'M-8 -5H8V-1H-8ZM-8 3H8V7H-8Z' : trend === 'rising' ? 'M0 -11 9 1H3V10H-3V1H-9Z' : 'M0 11 9 -1H3V-10H-3V-1H-9Z';
  return html`<path class="arrow" transform="translate(${x} ${y})" d=${d} />`;
}

/** @param {string} name */
const cut = (name) => (name.length <= MARKER_LETTERS ? name : `${name.slice(0, MARKER_LETTERS - 1)}…`);
