// The units in which this phone shows heights. What is stored is always metres. Pages are
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
