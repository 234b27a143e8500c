// The time of a reading as it is typed, on the clock of the household's home.

import { clock, dayStart, localDay } from '../parts/when.js';

/**
 * "2026-12-12T06:48", as the browser's own field has it.
 * @param {number} ms
 * @param {string} zone
 */
export const typedTime = (ms, zone) => `${localDay(ms, zone)}T${clock(new Date(ms).toISOString(), zone)}`;

/**
 * The instant of a time as typed, in milliseconds; NaN if it is none. Where the clocks change
 * it is the nearest that they show.
 * @param {string} typed
 * @param {string} zone
 */
export function timeTyped(typed, zone) {
  const found = /^(\d{4}-\d{2}-\d{2})T(\d{2}):(\d{2})/.exec(typed);
  if (!found || Number.isNaN(Date.parse(typed.slice(0, 16) + 'Z'))) return NaN;
  const minutes = Number(found[2]) * 60 + Number(found[3]);
  const ms = dayStart(found[1], zone) + minutes * 60_000;
  const [h, m] = clock(new Date(ms).toISOString(), zone).split(':').map(Number);
  const shows = (localDay(ms, zone) === found[1] ? 0 : localDay(ms, zone) > found[1] ? 1440 : -1440) + h * 60 + m;
  return ms + (minutes - shows) * 60_000;
}
