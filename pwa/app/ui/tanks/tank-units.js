// Degrees and litres as this phone shows them, and figures as they are typed on it. What is
// kept is always metric.

import { shownUnits } from '../parts/units.js';

/** The US liquid gallon, exactly (NIST SP 811, appendix B.8). */
const L_PER_GAL = 3.785411784;

/** Whether this phone shows degrees Fahrenheit and US gallons. */
export const imperial = () => shownUnits() === 'imperial';

export const degreeUnit = () => (imperial() ? '°F' : '°C');
export const volumeUnit = () => (imperial() ? 'US gal' : 'L');

/** @param {number} c */
export const fahrenheit = (c) => c * 1.8 + 32;
/** @param {number} f */
export const celsius = (f) => (f - 32) / 1.8;

/**
 * A figure with so many decimals, its minus a true one, and none before a zero.
 * @param {number} x
 * @param {number} decimals
 */
export const figure = (x, decimals) => x.toFixed(decimals).replace('-', '−').replace(/^−(0(\.0+)?)$/, '$1');

/**
 * A temperature as this phone shows it, without its unit: 15 °C is "59.0" in Fahrenheit.
 * @param {number} c
 */
export const inDegrees = (c) => (imperial() ? fahrenheit(c) : c);

/**
 * "15.0 °C".
 * @param {number} c
 */
export const degrees = (c) => `${figure(inDegrees(c), 1)} ${degreeUnit()}`;

/**
 * How far apart two temperatures are, "4.0 °C".
 * @param {number} c
 */
export const degreesApart = (c) => `${figure(imperial() ? c * 1.8 : c, 1)} ${degreeUnit()}`;

/**
 * A temperature as typed, in °C to a hundredth.
 * @param {number} typed
 */
export const asCelsius = (typed) => (imperial() ? Math.round(celsius(typed) * 100) / 100 : typed);

/**
 * "20 L", to three figures; under 1 L in mL.
 * @param {number} l
 */
export function litres(l) {
  if (imperial()) return `${plain(l / L_PER_GAL)} US gal`;
  return l > 0 && l < 1 ? `${plain(l * 1000)} mL` : `${plain(l)} L`;
}

/**
 * A volume as typed, in litres.
 * @param {number} typed
 */
export const asLitres = (typed) => (imperial() ? Math.round(typed * L_PER_GAL * 1e6) / 1e6 : typed);

/**
 * A volume for a form, in the unit of this phone.
 * @param {number} l
 */
export const inVolume = (l) => String(Number((imperial() ? l / L_PER_GAL : l).toPrecision(6)));

/**
 * To three figures, large ones to the unit.
 * @param {number} x
 */
export const plain = (x) => String(Math.abs(x) >= 100 ? Math.round(x) : Number(x.toPrecision(3)));

/**
 * A mass of salt, "358 g", "1.25 kg".
 * @param {number} g
 */
export const grams = (g) => (g >= 1000 ? `${plain(g / 1000)} kg` : `${plain(g)} g`);

/**
 * A number as typed, with a point or a comma; undefined for nothing, NaN for what is no number.
 * @param {string} typed
 */
export function typedNumber(typed) {
  const tidy = typed.trim().replace(',', '.').replace(/^[−–]/, '-');
  if (tidy === '') return undefined;
  return /^-?(\d{1,9}(\.\d{0,6})?|\.\d{1,6})$/.test(tidy) ? Number(tidy) : NaN;
}
