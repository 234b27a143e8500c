// The day of a window, drawn small: the tide over the local day, night shaded, the level
// under which the shore is bare, the usable part filled. The words beside it say the same.

import { html } from '../parts/html.js';
import { area, gaps, line, piece, reach, under } from './curve.js';
import { dayBounds } from './reckoned-days.js';

const HEIGHT = 44;
const EDGE = 3; // kept free above and below the curve

/**
 * @param {{window: any, zone: string, below: number, strips: import('./plan-state.js').Strip[]}} props
 */
export function RowCurve({ window: w, zone, below, strips }) {
  const { start, end } = dayBounds(w.day, zone);
  const strip = strips.find(({ curve }) => curve.startMs <= start && curve.startMs + curve.mm.length * curve.stepMs >= end);
  if (!strip) return html`<svg class="row-curve" viewBox=${`0 0 100 ${HEIGHT}`} aria-hidden="true" />`;
  const { low, high } = reach(strip.curve);
  const [least, most] = [Math.min(low, below), Math.max(high, below)];
  const scale = {
    x: (/** @type {number} */ ms) => ((ms - start) / (end - start)) * 1440,
    y: (/** @type {number} */ m) => EDGE + ((most - m) / (most - least || 1)) * (HEIGHT - 2 * EDGE),
  };
  const day = piece(strip.curve, start, end);
  const usable = piece(strip.curve, Date.parse(w.usableFrom), Date.parse(w.usableTo));
  const y = scale.y(below);
  return html`<svg class="row-curve" viewBox=${`0 0 1440 ${HEIGHT}`} preserveAspectRatio="none" aria-hidden="true">
    <rect class="ground" width="1440" height=${HEIGHT} />
    ${gaps(strip.lit, start, end).map(([from, to]) => html`<rect class="night" x=${scale.x(from)} width=${scale.x(to) - scale.x(from)} height=${HEIGHT} />`)}
    ${under(day, below).map((part) => html`<path class="dry" d=${area(part, below, scale)} />`)}
    ${under(usable, below).map((part) => html`<path class="use" d=${area(part, below, scale)} />`)}
    <path class="level" d=${`M0 ${y}H1440`} />
    <path class="sea" d=${line(day, scale)} />
  </svg>`;
}
