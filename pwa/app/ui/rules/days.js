// Days and months of rules, and how old a check is. Nothing here but words and arithmetic.

import { addDays, daysBetween } from '../parts/when.js';

export const MONTHS = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September', 'October', 'November', 'December'];

/** @param {number} n 1 to 12 */
export const monthName = (n) => MONTHS[n - 1] ?? String(n);

/**
 * "1 April", "1 April 2026".
 * @param {string} day "04-01" or "2026-04-01"
 */
export function monthDay(day) {
  const [d, m, y] = day.split('-').reverse();
  return `${Number(d)} ${monthName(Number(m))}${y ? ` ${y}` : ''}`;
}

/**
 * Whether it is a day that is there, between 1900 and 2200.
 * @param {string} day
 */
export function isDay(day) {
  const ms = /^\d{4}-\d\d-\d\d$/.test(day) ? Date.parse(`${day}T00:00:00Z`) : NaN;
  if (Number.isNaN(ms)) return false;
  const year = Number(day.slice(0, 4));
  return new Date(ms).toISOString().slice(0, 10) === day && year >= 1900 && year <= 2200;
}

/** For how many days a check counts, where the household has set nothing else. */
export const COUNTS = { text: 180, closure: 1 };

/**
 * How a check stands: own (the household's own rules need none), never, ahead (it lies in the
 * future), overdue (since a day), fresh (so many days ago). As internal/take has it.
 * @param {{layer?: string, checked?: {on: string, by: string} | null, today: string, counts: {text: number, closure: number}}} of
 * @returns {{is: 'own' | 'never' | 'ahead'} | {is: 'overdue' | 'fresh', days: number, since: string}}
 */
export function ageOf({ layer, checked, today, counts }) {
  if (layer === 'household') return { is: 'own' };
  if (!checked || !isDay(checked.on)) return { is: 'never' };
  const days = daysBetween(checked.on, today);
  if (days < -1) return { is: 'ahead' };
  const least = layer === 'closure' ? counts.closure : counts.text;
  return { is: days > least ? 'overdue' : 'fresh', days: Math.max(days, 0), since: addDays(checked.on, least + 1) };
}
