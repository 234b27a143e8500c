// The units in which this phone shows heights and amounts. What is stored is always metric. Pages are
// drawn anew when somebody goes to them, so the choice is a plain variable.

/** @typedef {'metric' | 'imperial'} Units */

/** The international foot, exactly (NIST SP 811, appendix B.8). */
const M_PER_FT = 0.3048;

let units = /** @type {Units} */ ('metric');

export const shownUnits = () => units;

/** @param {Units} chosen */
export function showIn(chosen) {
  units = chosen;
}

/** What stands behind a height: "m" or "ft". */
export const unit = () => (units === 'metric' ? 'm' : 'ft');

/** Metres in one of the unit. */
export const metresPerUnit = () => (units === 'metric' ? 1 : M_PER_FT);

/** Decimals of a water height: feet to a tenth, as tide tables print them. */
export const decimals = () => (units === 'metric' ? 2 : 1);

/**
 * What one of the other unit is, exactly (NIST SP 811, appendix B.8; the fluid ounce is that of the US).
 * @type {Record<string, [number, string]>}
 */
const IMPERIAL = { g: [28.349523125, 'oz'], mL: [29.5735295625, 'US fl oz'], mm: [25.4, 'in'], m: [M_PER_FT, 'ft'] };

/**
 * An amount with its unit: "250 g", or "8.82 oz" where this phone shows those.
 * @param {number} value
 * @param {string} name g, mL, mm or m
 */
export function amountIn(value, name) {
  const other = units === 'imperial' ? IMPERIAL[name] : undefined;
  return other ? `${Number((value / other[0]).toPrecision(3))} ${other[1]}` : `${value} ${name}`;
}
