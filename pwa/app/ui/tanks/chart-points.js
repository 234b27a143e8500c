// Readings of one kind as points in time, and how they stand on a drawing. Nothing here but
// arithmetic.

import { alkalinityUnit, numberOf, rangeOf, shownOf, stands } from './tank-ranges.js';
import { figure } from './tank-units.js';

/** @typedef {import('./reading-kinds.js').Kind} Kind */
/** @typedef {{ms: number, is: number, least?: number, most?: number, stands: ReturnType<typeof stands>, id: string, of: string}} ChartPoint in what is shown; the earliest first */

export const SPANS = /** @type {const} */ ({ month: 30, quarter: 91, year: 365 });
/** @typedef {keyof typeof SPANS} Span */

const DAY_MS = 86_400_000;

/**
 * @param {Kind} kind
 * @param {(Record<string, any> & {id: string})[]} readings of one water
 * @param {import('./tank-ranges.js').Ranges} ranges
 * @param {number} fromMs
 * @param {(read: any) => {salinity: number, least: number, most: number} | null | undefined} estimate of a salinity
 * @returns {ChartPoint[]}
 */
export function pointsOf(kind, readings, ranges, fromMs, estimate) {
  const range = rangeOf(kind, ranges);
  const shown = range && /** @type {[number, number]} */ (range.map((x) => shownOf(kind, x)));
  const unit = alkalinityUnit(ranges, readings.find(({ alkalinity }) => alkalinity)?.alkalinity.unit);
  /** @type {ChartPoint[]} */
  const points = [];
  for (const reading of readings) {
    const ms = Date.parse(reading.sample?.at);
    const value = reading[kind];
    if (value === undefined || value === null || !(ms >= fromMs)) continue;
    const at = { ms, id: reading.id, of: reading.sample.of };
    if (kind === 'salinity') {
      const e = estimate(value);
      if (e) points.push({ ...at, is: e.salinity, least: e.least, most: e.most, stands: stands(e.salinity, shown, e) });
    } else {
      const is = numberOf(kind, value, unit);
      if (is !== undefined && Number.isFinite(is)) points.push({ ...at, is, stands: stands(is, shown) });
    }
  }
  return points.sort((a, b) => a.ms - b.ms);
}

/** @param {number} nowMs @param {Span} span */
export const spanStart = (nowMs, span) => nowMs - SPANS[span] * DAY_MS;

/**
 * The least and most that a drawing shows: every point with its doubt, and the band.
 * @param {ChartPoint[]} points
 * @param {[number, number]} [band]
 * @returns {[number, number]}
 */
export function extent(points, band) {
  const all = points.flatMap(({ is, least, most }) => [is, least ?? is, most ?? is]);
  if (band && points.length) {
    // A band far wider than what was read would flatten it: it may run out of the drawing.
    const [low, high] = [Math.min(...all), Math.max(...all)];
    const room = Math.max(high - low, (band[1] - band[0]) * 0.5, 1e-9);
    all.push(Math.max(band[0], low - room), Math.min(band[1], high + room));
  } else if (band) all.push(...band);
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const edge = (high - low || Math.max(Math.abs(high), 1) * 0.1) * 0.1;
  return [low - edge, high + edge];
}

/**
 * Round figures at the side, five at most.
 * @param {number} low
 * @param {number} high
 */
export function ticks(low, high) {
  const rough = (high - low) / 4;
  const ten = 10 ** Math.floor(Math.log10(rough));
  const step = ([1, 2, 5, 10].find((s) => s * ten >= rough) ?? 10) * ten;
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const found = [];
  for (let i = Math.ceil(low / step - 1e-9); i * step <= high + step * 1e-9; i++) found.push({ at: i * step, words: figure(i * step, decimals) });
  return found;
}

/**
 * The point nearest to an instant.
 * @param {ChartPoint[]} points not empty
 * @param {number} ms
 */
export function nearest(points, ms) {
  let best = 0;
  points.forEach((one, i) => {
    if (Math.abs(one.ms - ms) < Math.abs(points[best].ms - ms)) best = i;
  });
  return best;
}
