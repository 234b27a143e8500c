// Heights as this phone shows them, in metres or in feet. What is stored is always metres.
// Pages are drawn anew when somebody goes to them, so the choice is a plain variable.

import { metres } from './when.js';
import { text } from '../../text/en.js';

/** @typedef {'metric' | 'imperial'} Units */

/** The international foot, exactly (NIST SP 811, appendix B.8). */
const M_PER_FT = 0.3048;

let units = /** @type {Units} */ ('metric');

export const shownUnits = () => units;

/** @param {Units} chosen */
export function showIn(chosen) {
  units = chosen;
}

/** "m" or "ft". */
export const unit = () => text.measures[units === 'metric' ? 'm' : 'ft'];

/**
 * A water height, "0.12 m" or "0.4 ft": feet to a tenth, as tide tables print them.
 * @param {number} m
 */
export const waterHeight = (m) => `${figure(m)} ${unit()}`;

/**
 * A height that a person set, "0.4 m", "0.35 m", "1.3 ft".
 * @param {number} m
 */
export const height = (m) => `${units === 'metric' ? metres(m).replace(/0$/, '') : figure(m)} ${unit()}`;

/**
 * The figure alone, "0.12" or "0.4", with a true minus.
 * @param {number} m
 */
export function figure(m) {
  if (units === 'metric') return metres(m);
  return (m / M_PER_FT).toFixed(1).replace('-', '−').replace(/^−(0\.0)$/, '$1');
}

/**
 * A height as typed in the units of this phone, in metres to the millimetre; undefined if it
 * is no number. Point or comma.
 * @param {string} typed
 */
export function typedHeight(typed) {
  const tidy = typed.trim().replace(',', '.').replace(/^[−–]/, '-');
  if (!/^-?(\d{1,4}(\.\d{0,6})?|\.\d{1,6})$/.test(tidy)) return undefined;
  return Math.round(Number(tidy) * (units === 'metric' ? 1 : M_PER_FT) * 1000) / 1000;
}
