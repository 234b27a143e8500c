// Whether what was read is within what the tank is kept within, and both in words.

import { alkalinityIn, DECIMALS } from './reading-kinds.js';
import { degreeUnit, figure, inDegrees } from './tank-units.js';
import { water as t } from '../../text/en-tank-water.js';

/** @typedef {import('./reading-kinds.js').Kind} Kind */
/** @typedef {[number, number]} Range */
/** @typedef {{keeps?: Record<string, number>, targets: Record<string, any>}} Ranges */

/**
 * The range of a kind in the book's units; alkalinity in that of the range.
 * @param {Kind} kind
 * @param {Ranges} ranges
 * @returns {Range | undefined}
 */
export function rangeOf(kind, { keeps, targets }) {
  if (kind === 'salinity') return keeps ? [keeps.salinityLow, keeps.salinityHigh] : undefined;
  if (kind === 'temperatureC') return keeps ? [keeps.lowC, keeps.highC] : undefined;
  const target = targets?.[kind];
  return target ? [target.low, target.high] : undefined;
}

/**
 * The unit in which alkalinities of a tank are shown.
 * @param {Ranges} ranges
 * @param {string} [read]
 */
export const alkalinityUnit = (ranges, read) => ranges.targets?.alkalinity?.unit ?? read ?? 'dKH';

/**
 * A reading as a number in the unit that is shown; a salinity must be reckoned first.
 * @param {Kind} kind
 * @param {any} value as the book has it
 * @param {string} [unit] of an alkalinity
 * @returns {number | undefined}
 */
export function numberOf(kind, value, unit) {
  if (kind === 'salinity') return undefined;
  if (kind === 'pH') return value.value;
  if (kind === 'alkalinity') return alkalinityIn(value, unit ?? value.unit);
  return kind === 'temperatureC' ? inDegrees(value) : value;
}

/**
 * A number of the book in what is shown.
 * @param {Kind} kind
 * @param {number} x
 */
export const shownOf = (kind, x) => (kind === 'temperatureC' ? inDegrees(x) : x);

/** @param {Kind} kind @param {string} [unit] of alkalinity */
export function unitOf(kind, unit) {
  const is = kind === 'temperatureC' ? degreeUnit() : kind === 'alkalinity' ? unit ?? 'dKH' : t.units[kind];
  return is ? ` ${is}` : '';
}

/** @param {Kind} kind @param {number} x in what is shown @param {string} [unit] */
export const words = (kind, x, unit) => figure(x, DECIMALS[kind]) + unitOf(kind, unit);

/** @param {Kind} kind @param {Range} range @param {string} [unit] */
export function rangeWords(kind, range, unit) {
  const [low, high] = range.map((x) => String(Number(shownOf(kind, x).toFixed(DECIMALS[kind]))).replace('-', '−'));
  return t.range(low, high, unitOf(kind, unit));
}

/**
 * @param {number} is
 * @param {Range | undefined} range
 * @param {{least: number, most: number}} [doubt] between what it may lie
 * @returns {'in' | 'low' | 'high' | 'doubt' | 'none'}
 */
export function stands(is, range, doubt) {
  if (!range) return 'none';
  if (is < range[0]) return 'low';
  if (is > range[1]) return 'high';
  return doubt && (doubt.least < range[0] - 1e-9 || doubt.most > range[1] + 1e-9) ? 'doubt' : 'in';
}
