// The day drawn: the water, the light, the levels of the shore, the windows, and when to
// start back and to be off. Everything in it stands in words beside it.

import { html } from '../parts/html.js';
import { clock, level, metres, nearestClock } from '../parts/when.js';
import { area, gaps, line, piece, under } from './curve.js';
import { spread } from './labels.js';
import { RAISE } from './plan-state.js';
import { text } from '../../text/en.js';
import { metresPerUnit } from '../../text/unit.js';

/** @typedef {import('./plan-state.js').Day} Day */
/** @typedef {import('./curve.js').Scale} Scale */

const LEFT = 36; // figures of the height
const RIGHT = 6;
const TOP = 48; // start back and off by, one row each
const BARE_TOP = 8; // where there is no window
const BOTTOM = 40; // the usable bar and the hours
const ROW = 20;
const LETTER = 7.4; // width of a figure at 13 px, on the wide side

/** @param {number} width @param {Day} day */
export function frame(width, day) {
  const height = Math.round(Math.min(440, Math.max(330, width * 0.42)));
  return { width, height, from: LEFT, to: width - RIGHT, start: day.start, end: day.end };
}

/**
 * The instant under a place of the drawing, to the minute.
 * @param {ReturnType<typeof frame>} f
 * @param {number} x
 */
export function instantAt(f, x) {
  const share = Math.min(1, Math.max(0, (x - f.from) / (f.to - f.from)));
  return f.start + Math.round((share * (f.end - f.start)) / 60_000) * 60_000;
}

/**
 * @param {{day: Day, shore: import('./shore-state.js').Shore, frame: ReturnType<typeof frame>, at: number, heightM?: number}} props
 *   at is the instant of the reading line
 */
export function DayChart({ day, shore, frame: f, at, heightM }) {
  const sea = piece(day.curve, day.start, day.end);
  const heights = sea.map(([, m]) => m);
  const { below, wayOff } = shore;
  let [least, most] = [Math.min(...heights, below), Math.max(...heights) + RAISE];
  // A way back that is cut far above the day's water would flatten the curve.
  const cutShown = wayOff !== null && wayOff <= most + (most - least) / 3 && wayOff >= least - (most - least) / 3;
  if (cutShown) [least, most] = [Math.min(least, wayOff), Math.max(most, wayOff)];
  const [top, bottom] = [day.windows.length ? TOP : BARE_TOP, f.height - BOTTOM];
  const room = 36 / (bottom - top - 72); // for two lines of figures above and below
  [least, most] = [least - (most - least) * room, most + (most - least) * room];
  /** @type {Scale} */
  const scale = {
    x: (ms) => f.from + ((ms - f.start) / (f.end - f.start)) * (f.to - f.from),
    y: (m) => top + ((most - m) / (most - least || 1)) * (bottom - top),
  };
  const { x, y } = scale;
  const dark = (/** @type {[number, number][]} */ parts, /** @type {string} */ kind) => parts.map(([from, to]) => html`<rect class=${kind} x=${x(from)} y=${top} width=${Math.max(0, x(to) - x(from))} height=${bottom - top} />`);
  const clipped = (/** @type {any} */ w) => ({ from: Math.max(Date.parse(w.usableFrom), f.start), to: Math.min(Date.parse(w.usableTo), f.end) });
  const levels = [{ m: below, words: text.day.levelBare(level(below)), kind: 'below' }, ...(cutShown ? [{ m: wayOff, words: text.day.levelCut(level(wayOff)), kind: 'cut' }] : [])];

  return html`<svg class="day-chart" viewBox=${`0 0 ${f.width} ${f.height}`} aria-hidden="true">
    <rect class="ground" x=${f.from} y=${top} width=${f.to - f.from} height=${bottom - top} />
    ${dark(gaps(day.sky.lit, f.start, f.end), 'civil')}
    ${dark(gaps(day.sky.civil, f.start, f.end), 'night')}
    <path class="water" d=${area(sea, least, scale)} />
    ${under(sea, below).map((part) => html`<path class="dry" d=${area(part, below, scale)} />`)}
    ${day.windows.map((w) => under(piece(day.curve, clipped(w).from, clipped(w).to), below).map((part) => html`<path class="use" d=${area(part, below, scale)} />`))}
    <${HeightTicks} least=${least} most=${most} y=${y} f=${f} />
    <path class="raised" d=${line(sea.map(([ms, m]) => [ms, m + RAISE]), scale)} />
    <path class="sea" d=${line(sea, scale)} />
    ${levels.map((one) => html`<${LevelLine} ...${one} sea=${sea} lows=${day.waters.filter((w) => w.kind === 'low')} scale=${scale} f=${f} />`)}
    ${day.windows.map((w) => html`<${UsableBar} ...${clipped(w)} x=${x} y=${bottom + 4} />`)}
    <${Hours} f=${f} x=${x} y=${f.height - 6} zone=${shore.zone} top=${bottom} />
    <${Flags} windows=${day.windows} zone=${shore.zone} f=${f} x=${x} bottom=${bottom} />
    <path class="reading-line" d=${`M${x(at)} ${top}V${bottom}`} />
    ${heightM !== undefined && html`<circle class="reading-dot" cx=${x(at)} cy=${y(heightM)} r="5" />`}
    ${day.waters.map((water) => html`<${WaterLabel} water=${water} zone=${shore.zone} scale=${scale} f=${f} />`)}
  </svg>`;
}

/** Heights at the left: whole metres or feet, or halves and fifths where the range is small. */
function HeightTicks(/** @type {{least: number, most: number, y: (m: number) => number, f: ReturnType<typeof frame>}} */ { least, most, y, f }) {
  const unitM = metresPerUnit();
  const step = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20].find((s) => (most - least) / unitM / s <= 7) ?? 20;
  const ticks = [];
  for (let i = Math.ceil(least / unitM / step); i * step * unitM <= most; i++) ticks.push(i * step);
  return ticks.map((tick) => html`<path class="tick" d=${`M${f.from} ${y(tick * unitM)}H${f.to}`} /><text class="figure" x=${f.from - 4} y=${y(tick * unitM) + 4} text-anchor="end">${tick.toFixed(step < 1 ? 1 : 0).replace('-', '−')}</text>`);
}

/** Every third hour on the shore's clock, where the clocks change too. */
function Hours(/** @type {{f: ReturnType<typeof frame>, x: (ms: number) => number, y: number, zone: string, top: number}} */ { f, x, y, zone, top }) {
  const marks = [];
  const half = 1_800_000;
  let before = '';
  for (let ms = f.start; ms <= f.end; ms += half) {
    const words = clock(new Date(ms).toISOString(), zone);
    const [h, m] = words.split(':').map(Number);
    if (m === 0 && h % 3 === 0 && words !== before) {
      marks.push({ x: x(ms), words: ms === f.end ? '24' : words.slice(0, 2) });
      before = words;
    }
  }
  return marks.map((mark) => html`<path class="tick" d=${`M${mark.x} ${top}v4`} /><text class="figure" x=${Math.min(mark.x, f.to - 8)} y=${y} text-anchor="middle">${mark.words}</text>`);
}

/** A level of the shore with its words, at the side where curve and figures are farther away. */
function LevelLine(/** @type {{m: number, words: string, kind: string, sea: import('./curve.js').Point[], lows: import('./plan-state.js').Water[], scale: Scale, f: ReturnType<typeof frame>}} */ { m, words, kind, sea, lows, scale, f }) {
  const width = words.length * LETTER;
  const y = scale.y(m);
  const figures = lows.map((low) => ({ x: scale.x(Date.parse(low.time)), y: scale.y(low.height) + 20 }));
  const free = (/** @type {number} */ from, /** @type {number} */ to) => Math.min(...figures.filter((at) => at.x > from - 30 && at.x < to + 30).map((at) => Math.max(0, Math.abs(at.y - (y - 8)) - 14)), ...sea.filter(([ms]) => scale.x(ms) >= from && scale.x(ms) <= to).map(([, height]) => Math.abs(scale.y(height) - (y - 8))));
  const left = free(f.from, f.from + width) >= free(f.to - width, f.to);
  return html`<path class=${`level ${kind}`} d=${`M${f.from} ${y}H${f.to}`} />
    <text class="words" x=${left ? f.from + 4 : f.to - 4} y=${y - 5} text-anchor=${left ? 'start' : 'end'}>${words}</text>`;
}

/** Time and height of a high or low water, above or below the curve. */
function WaterLabel(/** @type {{water: import('./plan-state.js').Water, zone: string, scale: Scale, f: ReturnType<typeof frame>}} */ { water, zone, scale, f }) {
  const at = scale.x(Date.parse(water.time));
  const x = Math.min(Math.max(at, f.from + 24), f.to - 24);
  const y = scale.y(water.height + (water.kind === 'high' ? RAISE : 0));
  const lines = water.kind === 'high' ? [y - 22, y - 8] : [y + 16, y + 30];
  return html`<circle class="water-dot" cx=${at} cy=${scale.y(water.height)} r="3" />
    <text class="words strong" x=${x} y=${lines[0]} text-anchor="middle">${nearestClock(water.time, zone)}</text>
    <text class="words" x=${x} y=${lines[1]} text-anchor="middle">${text.day.metres(metres(water.height))}</text>`;
}

function UsableBar(/** @type {{from: number, to: number, x: (ms: number) => number, y: number}} */ { from, to, x, y }) {
  return html`<rect class="use-bar" x=${x(from)} y=${y} width=${Math.max(2, x(to) - x(from))} height="7" /><path class="use-ends" d=${`M${x(from)} ${y - 4}v15M${x(to)} ${y - 4}v15`} />`;
}

/** Start back as a pennant, off by as a flag, each on a pole, with its words on top. */
function Flags(/** @type {{windows: any[], zone: string, f: ReturnType<typeof frame>, x: (ms: number) => number, bottom: number}} */ { windows, zone, f, x, bottom }) {
  /** @type {{key: 'startBack' | 'offBy', kind: string, y: number}[]} */
  const rows = [{ key: 'startBack', kind: 'back', y: 16 }, { key: 'offBy', kind: 'off', y: 16 + ROW }];
  return rows.map(({ key, kind, y }) => {
    const flags = windows.map((w) => {
      const words = text.day[key](clock(w[key], zone));
      const at = Math.min(Math.max(x(Date.parse(w[key])), f.from), f.to);
      return { at, x: at, width: words.length * LETTER + 12, words };
    });
    return spread(flags, 0, f.width).map(({ at, x: middle, words }) => html`<g class=${kind}>
      <path class="pole" d=${`M${at} ${y + 5}V${bottom}`} />
      <path class="flag" d=${kind === 'off' ? `M${at} ${y + 6}h14v10h-14z` : `M${at} ${y + 24}l-13 5l13 5z`} />
      <text class="words strong" x=${middle} y=${y} text-anchor="middle">${words}</text>
    </g>`);
  });
}

/** What the shades and lines are. */
export function Legend() {
  const words = text.day.legend(level(RAISE));
  /** @param {string} kind */
  const sample = (kind) => kind === 'sea' || kind === 'raised'
    ? html`<path class=${kind} d="M0 8H24" />` : html`<rect class=${kind} width="24" height="16" />`;
  return html`<ul class="legend" aria-label=${text.day.legendTitle}>${Object.entries(words).map(([kind, says]) => html`<li>
    <svg class="day-chart" viewBox="0 0 24 16" width="24" height="16" aria-hidden="true"><rect class="ground" width="24" height="16" />${sample(kind)}</svg> ${says}</li>`)}</ul>`;
}
