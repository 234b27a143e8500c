// The week of a tick sheet and what a tick on it becomes: a check with its own day and
// observer. Nothing here but reading.

import { addDays, localDay, weekday } from '../parts/when.js';
import { formatUUIDv7 } from '../../data/ids.js';
import { clockOf, instantOn, rfc3339 } from '../shore/outing-times.js';

/** Letters of what was seen, as internal/book has it. */
export const MOST_SEEN = 300;

/**
 * The Monday of a day's week.
 * @param {string} day YYYY-MM-DD
 */
export const mondayOf = (day) => addDays(day, -((weekday(day) + 6) % 7));

/** @param {string} monday */
export const weekOf = (monday) => Array.from({ length: 7 }, (_, i) => addDays(monday, i));

/**
 * Whether a path names a day.
 * @param {string | undefined} day
 * @returns {day is string}
 */
export function isDay(day) {
  const ms = /^\d{4}-\d\d-\d\d$/.test(day ?? '') ? Date.parse(day + 'T00:00:00Z') : NaN;
  return !Number.isNaN(ms) && new Date(ms).toISOString().slice(0, 10) === day;
}

/** @typedef {'looked' | 'seen' | ''} Mark no signs seen; something seen; nobody looked */
/**
 * What is typed of one day: when, by whom, the mark of each system and what was seen there.
 * @typedef {{time: string, who: string, marks: Record<string, Mark>, seen: Record<string, {what: string, grade: string}>}} Day
 */

/** @returns {Day} */
export const emptyDay = () => ({ time: '', who: '', marks: {}, seen: {} });

/**
 * The checks that are on file for a system on a local day.
 * @param {Record<string, any>[]} events
 * @param {string[]} of "system/…" or "tank/…": the system, and the tanks in it
 * @param {string} day
 * @param {string} zone
 * @returns {{id: string, at: string, by: string | null, signs: string[]}[]} earliest first
 */
export function checksOn(events, of, day, zone) {
  return events.filter(({ checked }) => checked && of.includes(checked.of) && localDay(Date.parse(checked.at), zone) === day)
    .map(({ id, checked }) => ({ id, at: checked.at, by: checked.by ?? null, signs: checked.signs ?? [] })).sort((a, b) => (a.at < b.at ? -1 : 1));
}

/**
 * When somebody looked, by the clock on the sheet; without one noon counts.
 * @param {string} time as typed
 * @param {string} day
 * @param {string} zone
 * @param {number} nowMs
 * @returns {{ms: number} | {wrong: 'time' | 'future'}}
 */
export function lookedAt(time, day, zone, nowMs) {
  if (day > localDay(nowMs, zone)) return { wrong: 'future' };
  if (time.trim() === '') return { ms: Math.min(instantOn(day, '12:00', zone), nowMs) };
  const hhmm = clockOf(time);
  if (!hhmm) return { wrong: 'time' };
  const ms = instantOn(day, hhmm, zone);
  return ms > nowMs ? { wrong: 'future' } : { ms };
}

/**
 * The id of a tick: the same on every phone for the same system and day, so that a sheet that
 * is typed in twice counts once.
 * @param {'checked' | 'sign'} what
 * @param {string} system "system/…" or "tank/…"
 * @param {string} day
 */
export async function tickId(what, system, day) {
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(`tick ${what} ${system} ${day}`)));
  return formatUUIDv7(Date.parse(day + 'T00:00:00Z'), ((sum[0] << 8) | sum[1]) & 0xfff, sum.slice(2, 10));
}

/**
 * What a day of the sheet adds to the book.
 * @param {Day} typed
 * @param {string} day
 * @param {string} zone
 * @param {number} nowMs
 * @param {string[]} systems those that are asked for
 * @returns {Promise<{events: {id: string, fields: Record<string, any>}[], wrong: Record<string, 'time' | 'future' | 'who' | 'what' | 'long' | 'grade' | 'none'>}>}
 *   wrong by the part: time, who, a system
 */
export async function ticksOf(typed, day, zone, nowMs, systems) {
  /** @type {Record<string, any>} */
  const wrong = {};
  const at = lookedAt(typed.time, day, zone, nowMs);
  if ('wrong' in at) wrong.time = at.wrong;
  if (!typed.who) wrong.who = 'who';
  const marked = systems.filter((ref) => typed.marks[ref]);
  if (marked.length === 0) wrong.marks = 'none';
  /** @type {{id: string, fields: Record<string, any>}[]} */
  const events = [];
  for (const ref of marked) {
    const what = typed.marks[ref] === 'seen' ? (typed.seen[ref]?.what ?? '').trim() : '';
    const grade = typed.seen[ref]?.grade ?? '';
    if (typed.marks[ref] === 'seen') {
      if (!what) wrong[ref] = 'what';
      else if (Array.from(what).length > MOST_SEEN) wrong[ref] = 'long';
      else if (!grade) wrong[ref] = 'grade';
    }
    const value = { at: 'ms' in at ? rfc3339(at.ms) : '', of: ref, by: typed.who || null };
    // What is harmless or to be watched says nothing of the others: they were looked at all the same.
    if (!what || grade === 'harmless' || grade === 'watch') events.push({ id: await tickId('checked', ref, day), fields: { checked: { ...value, signs: [] } } });
    if (what) events.push({ id: await tickId('sign', ref, day), fields: { sign: { ...value, what, grade } } });
  }
  return Object.keys(wrong).length > 0 ? { events: [], wrong } : { events, wrong };
}
