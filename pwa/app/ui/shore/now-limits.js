// How near the limits are, which window is the one of now, and what the kept heights say of
// the water. Nothing here but arithmetic; instants are Unix milliseconds.

import { waterAt } from '../../data/water.js';

/** @typedef {import('../../data/heights.js').Heights} Heights */

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;

/** From how many minutes before start back the page grows more insistent. */
export const SOON_MINUTES = 30;
export const NEAR_MINUTES = 10;

/** A rate under this, in metres an hour, reads as "about to turn". */
export const SLACK = 0.03;

/**
 * calm; soon and near: within 30 and 10 minutes of start back; back: start back now; off:
 * off the rocks now.
 * @typedef {'calm' | 'soon' | 'near' | 'back' | 'off'} Stage
 */

/** @type {Stage[]} */
export const STAGES = ['calm', 'soon', 'near', 'back', 'off'];

/**
 * @param {{startBackMs: number, offByMs: number}} limits
 * @param {number} nowMs
 * @returns {Stage}
 */
export function stageOf({ startBackMs, offByMs }, nowMs) {
  if (nowMs >= offByMs) return 'off';
  if (nowMs >= startBackMs) return 'back';
  const left = (startBackMs - nowMs) / MINUTE_MS;
  return left <= NEAR_MINUTES ? 'near' : left <= SOON_MINUTES ? 'soon' : 'calm';
}

/**
 * Whole minutes until an instant; a minute early does no harm.
 * @param {number} ms
 * @param {number} nowMs
 */
export const minutesTo = (ms, nowMs) => Math.floor((ms - nowMs) / MINUTE_MS);

/** @typedef {{day: string, usableFrom: string, usableTo: string, low: {time: string, height: number}, startBack: string, offBy: string}} Window as the core answers */

/** How long after off by a window still is the one of now: somebody may be late on the rocks. */
const AFTER_MS = HOUR_MS;

/**
 * The window that is under way or comes next, and whether it is today's.
 * @param {Window[]} windows
 * @param {string} today the shore's day
 * @param {number} nowMs
 * @returns {{now?: Window, next?: Window, over: boolean}} now: today's or under way; next: the one after
 *   that or, without one, the next of all; over: today had one
 */
export function windowNow(windows, today, nowMs) {
  const sorted = [...windows].sort((a, b) => (a.low.time < b.low.time ? -1 : 1));
  const coming = sorted.filter(({ offBy }) => Date.parse(offBy) + AFTER_MS > nowMs);
  const first = coming[0];
  const here = first && (first.day === today || Date.parse(first.usableFrom) <= nowMs);
  return {
    now: here ? first : undefined, next: coming[here ? 1 : 0],
    over: sorted.some((w) => w.day === today && Date.parse(w.offBy) + AFTER_MS <= nowMs),
  };
}

/** Between looks at the water, when an instant is searched: shorter than any wave of it. */
const LOOK_MS = 2 * MINUTE_MS;
const DAY_MS = 24 * HOUR_MS;

/**
 * The first instant from fromMs on at which the predicted water stands at a level; within a
 * millisecond, and the earlier side of it.
 * @param {Heights | undefined} heights
 * @param {number} level metres
 * @param {number} fromMs
 * @returns {number | undefined} Infinity if it does not within a day; undefined where a day of the water is not kept
 */
export function risesTo(heights, level, fromMs) {
  const at = (/** @type {number} */ ms) => heights && waterAt(heights, ms)?.heightM;
  const first = at(fromMs);
  if (first === undefined) return undefined;
  if (first >= level) return fromMs;
  for (let ms = fromMs + LOOK_MS; ms <= fromMs + DAY_MS; ms += LOOK_MS) {
    const height = at(ms);
    if (height === undefined) return undefined;
    if (height >= level) return crossing(at, level, ms - LOOK_MS, ms);
  }
  return Infinity;
}

/**
 * @param {(ms: number) => number | undefined} at
 * @param {number} level
 * @param {number} a on the one side of the level
 * @param {number} b on the other
 */
function crossing(at, level, a, b) {
  const above = /** @type {number} */ (at(a)) >= level;
  while (b - a > 1) {
    const middle = (a + b) / 2;
    if (/** @type {number} */ (at(middle)) >= level === above) a = middle;
    else b = middle;
  }
  return Math.floor(a);
}

/** A marker rock seen further than this from its predicted time says nothing of that time. */
const MARKER_MS = 6 * HOUR_MS;

/**
 * By how many minutes the sea stands at a level later (above zero) or earlier (below zero)
 * than predicted, the predicted crossing being the nearest in the direction in which the
 * water now goes.
 * @param {Heights | undefined} heights
 * @param {number} level metres
 * @param {number} atMs when it was seen
 * @returns {number | null} null where no such crossing is predicted within six hours
 */
export function lateBy(heights, level, atMs) {
  const now = heights && waterAt(heights, atMs);
  if (!now) return null;
  const rising = now.rateMPerHour > -SLACK;
  const at = (/** @type {number} */ ms) => waterAt(heights, ms)?.heightM;
  let nearest = Infinity;
  for (let ms = atMs - MARKER_MS; ms < atMs + MARKER_MS; ms += LOOK_MS) {
    const [a, b] = [at(ms), at(ms + LOOK_MS)];
    if (a === undefined || b === undefined || a >= level === b >= level || b > a !== rising) continue;
    const found = crossing(at, level, ms, ms + LOOK_MS);
    if (Math.abs(found - atMs) < Math.abs(nearest - atMs)) nearest = found;
  }
  return nearest === Infinity ? null : Math.round((atMs - nearest) / MINUTE_MS);
}

/**
 * The next low or high water of the kept heights.
 * @param {Heights} heights
 * @param {number} fromMs
 * @param {'low' | 'high'} kind
 * @returns {{ms: number, heightM: number} | undefined}
 */
export function nextTurn(heights, fromMs, kind) {
  const sign = kind === 'low' ? 1 : -1;
  const rate = (/** @type {number} */ ms) => sign * (waterAt(heights, ms)?.rateMPerHour ?? NaN);
  for (let ms = fromMs; ; ms += LOOK_MS) {
    const [a, b] = [rate(ms), rate(ms + LOOK_MS)];
    if (Number.isNaN(b)) return undefined;
    if (a < 0 && b >= 0) {
      const turn = ms + LOOK_MS * (a / (a - b));
      return { ms: turn, heightM: /** @type {{heightM: number}} */ (waterAt(heights, turn)).heightM };
    }
  }
}

/**
 * Whether no light is on the shore.
 * @param {{from: string, to: string}[]} lit stretches between sunrise and sunset
 * @param {{from: string, to: string}} span that they tell of
 * @param {number} nowMs
 */
export const isDark = (lit, span, nowMs) => within(span, nowMs) && !lit.some((stretch) => within(stretch, nowMs));

/** @param {{from: string, to: string}} span @param {number} ms */
const within = ({ from, to }, ms) => Date.parse(from) <= ms && ms < Date.parse(to);
