// A year by days: the windows of each, and where each stands on a drawing of the year.
// Nothing here but arithmetic.

import { addDays, weekday } from '../parts/when.js';

/** @typedef {import('./plan-state.js').YearWindow} YearWindow */
/** @typedef {{day: string, month: number, date: number, weekend: boolean, windows: YearWindow[], minutes: number}} YearDay month and date from 1 */

/**
 * @param {string} year
 * @param {YearWindow[]} windows in order of time
 * @returns {YearDay[]} every day of the year
 */
export function yearDays(year, windows) {
  /** @type {Map<string, YearWindow[]>} */
  const byDay = new Map();
  for (const w of windows) byDay.set(w.day, [...(byDay.get(w.day) ?? []), w]);
  const days = [];
  for (let day = `${year}-01-01`; day.startsWith(year); day = addDays(day, 1)) {
    const own = byDay.get(day) ?? [];
    days.push({
      day, month: Number(day.slice(5, 7)), date: Number(day.slice(8)), weekend: weekday(day) % 6 === 0,
      windows: own, minutes: minutesOf(own),
    });
  }
  return days;
}

/** @param {YearWindow[]} windows */
export const minutesOf = (windows) => windows.reduce((sum, w) => sum + w.usableMinutes, 0);

/**
 * How the twelve rows of a year lie on a drawing.
 * @param {{width: number, left: number, top: number, row: number}} size left is kept for the month's name, top for the dates
 */
export function yearGrid({ width, left, top, row }) {
  const cell = (width - left) / 31;
  return {
    width, left, top, row, cell, height: top + 12 * row,
    x: (/** @type {YearDay} */ day) => left + (day.date - 1) * cell,
    /** The foot of a day's bar. */
    foot: (/** @type {YearDay} */ day) => top + day.month * row - 8,
    /** How tall a full bar is. */
    full: row - 18,
    /**
     * The day under a place, or the nearest of its month.
     * @param {YearDay[]} days
     * @param {number} px
     * @param {number} py
     */
    dayAt(days, px, py) {
      const month = Math.min(12, Math.max(1, Math.floor((py - top) / row) + 1));
      const own = days.filter((day) => day.month === month);
      return own[Math.min(own.length - 1, Math.max(0, Math.floor((px - left) / cell)))];
    },
  };
}

/**
 * The minutes that fill a row: the most of any day, in whole half hours, two hours at
 * least.
 * @param {YearDay[]} days
 */
export const fullMinutes = (days) => Math.max(120, Math.ceil(Math.max(...days.map((day) => day.minutes)) / 30) * 30);
