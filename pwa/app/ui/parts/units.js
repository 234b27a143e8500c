// Heights with their unit, as this phone shows them, and as they are typed on it.

import { level, metres } from './when.js';
import { metresPerUnit, unit } from '../../text/unit.js';

export { showIn, shownUnits } from '../../text/unit.js';

/**
 * A water height, "0.12 m" or "0.4 ft".
 * @param {number} m
 */
export const waterHeight = (m) => `${metres(m)} ${unit()}`;

/**
 * A height that a person set, "0.4 m", "0.35 m", "1.3 ft".
 * @param {number} m
 */
export const height = (m) => `${level(m)} ${unit()}`;

/**
 * A height as typed in the units of this phone, in metres to the millimetre; undefined if it
 * is no number. Point or comma.
 * @param {string} typed
 */
export function typedHeight(typed) {
  const tidy = typed.trim().replace(',', '.').replace(/^[−–]/, '-');
  if (!/^-?(\d{1,4}(\.\d{0,6})?|\.\d{1,6})$/.test(tidy)) return undefined;
  return Math.round(Number(tidy) * metresPerUnit() * 1000) / 1000;
}
