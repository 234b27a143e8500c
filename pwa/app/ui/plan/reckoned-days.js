// The days for which windows are reckoned. The core predicts the years 1900 to 2100 and
// looks three days to either side of a window.

import { addDays, dayStart, localDay } from '../parts/when.js';

export const FIRST_DAY = '1900-01-05';
export const LAST_DAY = '2100-12-27';
const FIRST_INSTANT = '1900-01-04T00:00:00Z';
const LAST_INSTANT = '2100-12-28T23:59:59Z';

/**
 * Whether a text is a day for which windows are reckoned. Phones ignore min and max of a
 * date input, and a path can be typed.
 * @param {string} text
 */
export function isDay(text) {
  const day = /^\d{4}-\d\d-\d\d$/.test(text) && new Date(text + 'T00:00:00Z');
  return Boolean(day) && !Number.isNaN(Number(day)) && /** @type {Date} */ (day).toISOString().startsWith(text) && text >= FIRST_DAY && text <= LAST_DAY;
}

/** @param {string} text */
export const isYear = (text) => /^(19\d\d|20\d\d|2100)$/.test(text);

/**
 * A span of days for the core, cut to what is reckoned.
 * @param {string} from first day
 * @param {string} to the day after the last
 */
export const span = (from, to) => ({ from: from < FIRST_DAY ? FIRST_INSTANT : from, to: to > LAST_DAY ? LAST_INSTANT : to });

/**
 * A local day as instants, [start, end) in milliseconds: 23 or 25 hours where the clocks
 * change, none where a zone has left the day out.
 * @param {string} day
 * @param {string} zone
 */
export function dayBounds(day, zone) {
  const start = dayStart(day, zone);
  if (localDay(start, zone) !== day) return { start, end: start };
  return { start, end: dayStart(addDays(day, 1), zone) };
}
