// How much of it there is: what may be written, and what a touch adds. Nothing here but
// arithmetic.

/** @typedef {import('./find.js').Unit} Unit */

/** @type {Unit[]} */
export const UNITS = ['count', 'g', 'mL', 'mm'];

/** The bounds are those of internal/book. */
const MOST = 100_000;

/**
 * What one touch adds or takes.
 * @type {Record<Unit, number>}
 */
const STEP = { count: 1, g: 10, mL: 50, mm: 5 };

/**
 * @param {string} written with a point or a comma
 * @param {Unit} unit
 * @returns {number | undefined} undefined for what is no amount of it
 */
export function amountOf(written, unit) {
  const tidy = written.trim().replace(',', '.');
  if (!/^\d{1,6}(\.\d{0,3})?$/.test(tidy)) return undefined;
  const value = Number(tidy);
  return value > MOST || (unit === 'count' && !Number.isInteger(value)) ? undefined : value;
}

/**
 * As the rules are asked: null for what is no amount.
 * @param {string} written
 * @param {Unit} unit
 */
export function amountAsked(written, unit) {
  const value = amountOf(written, unit);
  return value === undefined ? null : { value, unit };
}

/**
 * The next amount up or down, on the steps of its unit and never under the least.
 * @param {string} written
 * @param {Unit} unit
 * @param {1 | -1} by
 */
export function stepped(written, unit, by) {
  const step = STEP[unit];
  const now = amountOf(written, unit) ?? 0;
  const on = by > 0 ? Math.floor(now / step) * step + step : Math.ceil(now / step) * step - step;
  return String(Math.min(MOST, Math.max(unit === 'count' ? 1 : 0, on)));
}
