// A position as it is read to a coastguard: degrees and minutes, digit by digit. Nothing here
// but words.

import { text } from '../../text/en.js';

/** Decimals of a minute: a thousandth is 1.85 m of latitude (a minute is a nautical mile, 1852 m, nearly). */
const DECIMALS = 3;

/**
 * @param {number} degrees north or east positive
 * @param {'lat' | 'lon'} axis
 * @returns {{degrees: number, minutes: string, side: 'N' | 'S' | 'E' | 'W'}} minutes with two digits before the point
 */
export function degreesAndMinutes(degrees, axis) {
  const side = axis === 'lat' ? (degrees < 0 ? 'S' : 'N') : degrees < 0 ? 'W' : 'E';
  // In whole thousandths of a minute, so that 59.9999 becomes the next degree and not 60.000.
  const parts = Math.round(Math.abs(degrees) * 60 * 10 ** DECIMALS);
  const whole = Math.floor(parts / (60 * 10 ** DECIMALS));
  const minutes = ((parts - whole * 60 * 10 ** DECIMALS) / 10 ** DECIMALS).toFixed(DECIMALS).padStart(DECIMALS + 3, '0');
  return { degrees: whole, minutes, side };
}

/**
 * "48° 21.345′ N".
 * @param {number} degrees
 * @param {'lat' | 'lon'} axis
 */
export function written(degrees, axis) {
  const { degrees: whole, minutes, side } = degreesAndMinutes(degrees, axis);
  return `${whole}° ${minutes}′ ${side}`;
}

/**
 * "four eight degrees, two one point three four five minutes north".
 * @param {number} degrees
 * @param {'lat' | 'lon'} axis
 */
export function spoken(degrees, axis) {
  const t = text.help.spoken;
  const { degrees: whole, minutes, side } = degreesAndMinutes(degrees, axis);
  const digits = (/** @type {string} */ figures) => Array.from(figures, (c) => (c === '.' ? t.point : t.digits[Number(c)])).join(' ');
  return t.position(digits(String(whole)), digits(minutes), t.sides[side]);
}
