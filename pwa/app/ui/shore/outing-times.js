// The times of an outing that people write as a clock, and those that follow from the window.

import { addDays, clock, dayStart, localDay } from '../parts/when.js';
import { HEADS_MINUTES } from './outing.js';

const MINUTE_MS = 60_000;

/** What changing, washing the nets and loading the car take, minutes. Common practice. */
export const PACK_UP_MIN = 30;

/**
 * When the party is due back, unless it says otherwise: off the rocks, packed up, and home.
 * @param {string} offBy RFC 3339
 * @param {number} travelMin from the shore, minutes
 * @returns {number} Unix ms
 */
export const proposedDueBack = (offBy, travelMin) => Date.parse(offBy) + (travelMin + PACK_UP_MIN) * MINUTE_MS;

/**
 * A clock as people write it: "6:05", "06.05", "0605".
 * @param {string} written
 * @returns {string | undefined} "06:05"
 */
export function clockOf(written) {
  const found = /^(\d{1,2})[:.h ]?(\d\d)$/.exec(written.trim());
  if (!found || Number(found[1]) > 23 || Number(found[2]) > 59) return undefined;
  return `${found[1].padStart(2, '0')}:${found[2]}`;
}

/**
 * The instant at which a clock shows a time on a local day. A time that the clocks leave out
 * in spring is taken for the hour after; of one that comes twice in autumn, the first.
 * @param {string} day YYYY-MM-DD
 * @param {string} hhmm
 * @param {string} zone
 * @returns {number} Unix ms
 */
export function instantOn(day, hhmm, zone) {
  const [h, m] = hhmm.split(':').map(Number);
  const plain = dayStart(day, zone) + (h * 60 + m) * MINUTE_MS;
  // Where the clocks have changed since midnight, they show another time than was counted.
  const fits = [plain - 60 * MINUTE_MS, plain - 30 * MINUTE_MS, plain, plain + 30 * MINUTE_MS, plain + 60 * MINUTE_MS]
    .find((ms) => localDay(ms, zone) === day && clock(new Date(ms).toISOString(), zone) === hhmm);
  return fits ?? plain;
}

/**
 * The first instant at or after another at which the clock shows a time.
 * @param {string} hhmm
 * @param {number} afterMs
 * @param {string} zone
 */
export function nextAt(hhmm, afterMs, zone) {
  const day = localDay(afterMs, zone);
  const ms = instantOn(day, hhmm, zone);
  return ms >= afterMs - (afterMs % MINUTE_MS) ? ms : instantOn(addDays(day, 1), hhmm, zone);
}

/**
 * An instant as records have it: RFC 3339 UTC to the second.
 * @param {number} ms
 */
export const rfc3339 = (ms) => `${new Date(ms).toISOString().slice(0, 19)}Z`;

/** More than ten hours is no window. */
const MOST_HEADS = 40;

/**
 * When heads are counted: every quarter of an hour from the beginning, and at start back.
 * @param {{from: string, to: string, startBack: string | null, offBy: string | null} | null} planned
 * @returns {number[]} Unix ms
 */
export function headTimes(planned) {
  if (!planned) return [];
  const step = HEADS_MINUTES * MINUTE_MS;
  const end = Date.parse(planned.offBy ?? planned.to);
  const back = planned.startBack ? Date.parse(planned.startBack) : undefined;
  const times = back === undefined ? [] : [back];
  for (let ms = Date.parse(planned.from) + step; ms <= end && times.length < MOST_HEADS; ms += step) if (ms !== back) times.push(ms);
  return times.sort((a, b) => a - b);
}
