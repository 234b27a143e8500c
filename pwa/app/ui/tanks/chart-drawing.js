// One kind of reading drawn over time: the band that it is to be kept within, the points, the
// doubt of each, the reading line. What it shows stands in words and in a table beside it.

import { html } from '../parts/html.js';
import { clock, localDay, monthName } from '../parts/when.js';
import { extent, ticks } from './chart-points.js';

/** @typedef {import('./chart-points.js').ChartPoint} ChartPoint */

const [LEFT, RIGHT, TOP, BOTTOM] = [44, 8, 8, 24];
const HEIGHT = 180;

/** @param {number} width @param {number} fromMs @param {number} toMs */
export function chartFrame(width, fromMs, toMs) {
  const [from, to] = [LEFT, width - RIGHT];
  return {
    width, from, to, fromMs, toMs,
    x: (/** @type {number} */ ms) => from + ((ms - fromMs) / (toMs - fromMs)) * (to - from),
    msAt: (/** @type {number} */ x) => fromMs + ((x - from) / (to - from)) * (toMs - fromMs),
  };
}

/** @param {{points: ChartPoint[], band?: [number, number], frame: ReturnType<typeof chartFrame>, at: number, zone: string}} props at: the index of the point that is read */
export function Drawing({ points, band, frame: f, at, zone }) {
  const [low, high] = extent(points, band);
  const bottom = HEIGHT - BOTTOM;
  const y = (/** @type {number} */ is) => Math.round((TOP + ((high - is) / (high - low)) * (bottom - TOP)) * 10) / 10;
  const x = (/** @type {number} */ ms) => Math.round(f.x(ms) * 10) / 10;
  const shown = band && [Math.min(Math.max(band[0], low), high), Math.min(Math.max(band[1], low), high)];
  const read = points[at];
  const size = Math.min(1, Math.max(0.35, (f.to - f.from) / (points.length * 7))); // many stand close
  return html`<svg class="water-chart" viewBox=${`0 0 ${f.width} ${HEIGHT}`} aria-hidden="true">
    <rect class="ground" x=${f.from} y=${TOP} width=${f.to - f.from} height=${bottom - TOP} />
    ${shown && shown[1] > shown[0] && html`<rect class="band" x=${f.from} y=${y(shown[1])} width=${f.to - f.from} height=${y(shown[0]) - y(shown[1])} />`}
    ${band?.filter((edge) => edge > low && edge < high).map((edge) => html`<path class="edge" d=${`M${f.from} ${y(edge)}H${f.to}`} />`)}
    ${ticks(low, high).map((tick) => html`<path class="tick" d=${`M${f.from - 4} ${y(tick.at)}h4`} /><text x=${f.from - 6} y=${y(tick.at) + 4} text-anchor="end">${tick.words}</text>`)}
    <${Dates} f=${f} zone=${zone} bottom=${bottom} />
    ${points.map(({ ms, least, most }) => least !== undefined && most !== undefined && html`<path class="doubt" d=${`M${x(ms)} ${y(least)}V${y(most)}`} />`)}
    <path class="line" d=${points.map(({ ms, is }, i) => `${i ? 'L' : 'M'}${x(ms)} ${y(is)}`).join('')} />
    ${points.map((one) => html`<${Mark} at=${one} x=${x(one.ms)} y=${y(one.is)} size=${size} />`)}
    ${read && html`<path class="reading-line" d=${`M${x(read.ms)} ${TOP}V${bottom}`} /><circle class="reading-dot" cx=${x(read.ms)} cy=${y(read.is)} r="6" />`}
  </svg>`;
}

/**
 * A filled dot is within; outside is a triangle that points away from the band.
 * @param {{at: ChartPoint, x: number, y: number, size: number}} props
 */
function Mark({ at, x, y, size }) {
  if (at.stands === 'high') return html`<path class="out" d=${`M${x} ${y - 6 * size}l${6 * size} ${10 * size}h${-12 * size}z`} />`;
  if (at.stands === 'low') return html`<path class="out" d=${`M${x} ${y + 6 * size}l${6 * size} ${-10 * size}h${-12 * size}z`} />`;
  return html`<circle class="dot" cx=${x} cy=${y} r=${3.5 * size} />`;
}

/**
 * The first of each month, or of each week where the span is short.
 * @param {{f: ReturnType<typeof chartFrame>, zone: string, bottom: number}} props
 */
function Dates({ f, zone, bottom }) {
  const days = Math.round((f.toMs - f.fromMs) / 86_400_000);
  /** @type {{x: number, words: string}[]} */
  const marks = [];
  for (let i = 0; i <= days; i++) {
    const ms = f.fromMs + i * 86_400_000;
    const day = localDay(ms, zone);
    const [, month, date] = day.split('-').map(Number);
    const name = monthName(month, 'short');
    const word = days > 100 ? (date === 1 && (days < 200 || month % 2 === 1) ? name : '') : days > 40 ? (date === 1 || date === 15 ? `${date} ${name}` : '') : date === 1 || (date % 7 === 1 && date < 28) ? `${date} ${name}` : '';
    const [h, m] = clock(new Date(ms).toISOString(), zone).split(':').map(Number);
    if (word) marks.push({ x: f.x(ms - (h * 60 + m) * 60_000), words: word });
  }
  return marks.filter(({ x }) => x >= f.from).map(({ x, words }) => html`<path class="tick" d=${`M${x} ${bottom}v4`} /><text x=${Math.min(Math.max(x, f.from + 14), f.to - 16)} y=${HEIGHT - 6} text-anchor="middle">${words}</text>`);
}
