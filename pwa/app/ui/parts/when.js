// Instants and local days in words. The core answers in UTC; here they become the shore's
// own clock, by the browser's time zones.

import { text } from '../../text/en.js';
import { decimals, metresPerUnit, shownUnits } from '../../text/unit.js';

const LANGUAGE = 'en-GB';

/** @type {Map<string, Intl.DateTimeFormat>} */
const formats = new Map();

/**
 * Whether this browser knows a zone.
 * @param {string} zone
 */
export function knowsZone(zone) {
  try {
    new Intl.DateTimeFormat(LANGUAGE, { timeZone: zone });
    return true;
  } catch {
    return false;
  }
}

/** @param {string} zone @param {Intl.DateTimeFormatOptions} options */
function format(zone, options) {
  const key = zone + JSON.stringify(options);
  let made = formats.get(key);
  if (!made) {
    made = new Intl.DateTimeFormat(LANGUAGE, { ...options, timeZone: knowsZone(zone) ? zone : 'UTC' });
    formats.set(key, made);
  }
  return made;
}

/**
 * "06:48".
 * @param {string} instant RFC 3339
 * @param {string} zone
 */
export function clock(instant, zone) {
  return format(zone, { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }).format(new Date(instant));
}

/**
 * The clock at the nearest minute, as offices print their tables. Times that a person
 * must keep to are cut instead: a minute early does no harm.
 * @param {string} instant RFC 3339
 * @param {string} zone
 */
export const nearestClock = (instant, zone) => clock(new Date(Date.parse(instant) + 30_000).toISOString(), zone);

/**
 * "12 Dec, 06:48".
 * @param {string} instant
 * @param {string} zone
 */
export function dayAndClock(instant, zone) {
  const day = format(zone, { day: 'numeric', month: 'short' }).format(new Date(instant));
  return `${day}, ${clock(instant, zone)}`;
}

/**
 * "Sat 12 Dec 2026"; the year only where it is not this year.
 * @param {string} day YYYY-MM-DD
 * @param {string} today
 */
export function dayName(day, today) {
  const at = new Date(day + 'T00:00:00Z');
  /** @param {Intl.DateTimeFormatOptions} options */
  const part = (options) => format('UTC', options).format(at);
  const name = `${part({ weekday: 'short' })} ${part({ day: 'numeric' })} ${part({ month: 'short' })}`;
  return day.slice(0, 4) === today.slice(0, 4) ? name : `${name} ${day.slice(0, 4)}`;
}

/**
 * The local day of an instant, YYYY-MM-DD.
 * @param {number} ms
 * @param {string} zone
 */
export function localDay(ms, zone) {
  const parts = format(zone, { year: 'numeric', month: '2-digit', day: '2-digit' }).formatToParts(new Date(ms));
  /** @param {string} type */
  const get = (type) => parts.find((part) => part.type === type)?.value ?? '';
  return `${get('year').padStart(4, '0')}-${get('month')}-${get('day')}`;
}

/**
 * A local day some days on.
 * @param {string} day YYYY-MM-DD
 * @param {number} days
 */
export function addDays(day, days) {
  const at = new Date(day + 'T00:00:00Z');
  at.setUTCDate(at.getUTCDate() + days);
  return at.toISOString().slice(0, 10);
}

/**
 * How many days one local day is after another.
 * @param {string} from YYYY-MM-DD
 * @param {string} to
 */
export const daysBetween = (from, to) => Math.round((Date.parse(to + 'T00:00:00Z') - Date.parse(from + 'T00:00:00Z')) / 86_400_000);

/**
 * "2 h 07".
 * @param {number} minutes
 */
export function duration(minutes) {
  return text.units.duration(Math.floor(minutes / 60), minutes % 60);
}

/**
 * A height given in metres as a figure, "0.12", with a true minus; in feet, "0.4", where this
 * phone shows those.
 * @param {number} m
 */
export function metres(m) {
  return (m / metresPerUnit()).toFixed(decimals()).replace('-', '−').replace(/^−(0\.0+)$/, '$1');
}

/**
 * A height that a person set: "0.4", "0.35"; in feet as metres() has it.
 * @param {number} m
 */
export function level(m) {
  return shownUnits() === 'metric' ? metres(m).replace(/0$/, '') : metres(m);
}

/**
 * The instant at which a local day begins. Where the clocks go forward at midnight, that
 * is the first instant that is there.
 * @param {string} day YYYY-MM-DD
 * @param {string} zone
 * @returns {number} milliseconds since 1970
 */
export function dayStart(day, zone) {
  const noon = Date.parse(day + 'T12:00:00Z');
  // No zone is more than 14 hours from UTC; local mean times are within that as well.
  let [before, from] = [noon - 36 * 3_600_000, noon + 24 * 3_600_000];
  while (from - before > 1000) {
    const middle = before + Math.floor((from - before) / 2000) * 1000;
    if (localDay(middle, zone) < day) before = middle;
    else from = middle;
  }
  return from;
}

/**
 * "January".
 * @param {number} month 1 to 12
 * @param {'long' | 'short'} [length]
 */
export function monthName(month, length = 'long') {
  return format('UTC', { month: length }).format(Date.UTC(2000, month - 1, 1));
}

/**
 * 0 for Sunday to 6 for Saturday.
 * @param {string} day YYYY-MM-DD
 */
export const weekday = (day) => new Date(day + 'T00:00:00Z').getUTCDay();
