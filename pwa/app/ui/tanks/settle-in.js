// From taken finds to specimens. Nothing here but reading and arithmetic: the ids follow from
// the find's, so that two phones that settle in the same find write the same records.

import { takenOf } from '../shore/find.js';

/** @typedef {import('../shore/find.js').Find} Find */

/** One bag goes into so many jars at most. */
export const MOST_JARS = 12;

const WEEDS = ['greens', 'reds', 'browns', 'calcareous'];

/**
 * Whether a group is a weed, of which it matters how it was taken.
 * @param {string} group
 */
export const isWeed = (group) => WEEDS.includes(group);

/**
 * The id of the part-th specimen that comes of a find: a version 8 UUID (RFC 9562, section
 * 5.8) of the find's own bits.
 * @param {string} find id
 * @param {number} part from 0
 */
export function settledId(find, part) {
  const last = (parseInt(find.slice(-2), 16) ^ part).toString(16).padStart(2, '0');
  return `${find.slice(0, 14)}8${find.slice(15, -2)}${last}`;
}

/**
 * The id of the event that a specimen of settledId arrived.
 * @param {string} specimen id
 */
export const arrivalId = (specimen) => `${specimen.slice(0, 15)}${(parseInt(specimen[15], 16) ^ 8).toString(16)}${specimen.slice(16)}`;

/**
 * What of an outing's finds was taken and not put back.
 * @param {Find[]} finds
 */
export const taken = (finds) => finds.filter((find) => !find.deleted && takenOf([find]).length > 0);

/**
 * Those of them that no specimen comes from yet.
 * @param {Find[]} finds
 * @param {Record<string, any>[]} specimens on file
 */
export function unsettled(finds, specimens) {
  const has = new Set(specimens.map(({ find }) => find));
  return taken(finds).filter(({ id }) => !has.has(id));
}

/**
 * The specimens that come of one find. In several jars they keep their one origin, and each
 * has its own fate from here on: all but the first name the first as their lot.
 * @param {Find} find
 * @param {number} jars
 * @param {string} base '' where nobody said
 * @returns {{id: string, fields: Record<string, any>}[]}
 */
export function specimensOf(find, jars, base) {
  const [amount] = takenOf([find]);
  const first = settledId(find.id, 0);
  return Array.from({ length: jars }, (_, part) => ({
    id: settledId(find.id, part),
    fields: {
      find: find.id, origin: 'wild', taxon: find.taxon, group: find.group, amount: shareOf(amount, jars, part),
      ...(isWeed(find.group) && base ? { base } : {}), ...(part > 0 ? { lot: first } : {}),
    },
  }));
}

/**
 * A share in whole numbers of what is counted, to a thousandth of what is not. Fewer than
 * there are jars cannot be shared out: then nobody knows, and it is left out.
 * @param {{value: number, unit: string} | undefined} amount
 * @param {number} jars
 * @param {number} part
 */
function shareOf(amount, jars, part) {
  if (!amount) return null;
  if (jars === 1) return amount;
  if (amount.unit !== 'count') return { unit: amount.unit, value: Math.round((amount.value / jars) * 1000) / 1000 };
  const value = Math.floor(amount.value / jars) + (part < amount.value % jars ? 1 : 0);
  return value > 0 ? { unit: amount.unit, value } : null;
}

/**
 * Names for new jars that nobody has yet: "Jar 4", "Jar 5".
 * @param {string} word
 * @param {number} n
 * @param {string[]} names on file
 */
export function jarNames(word, n, names) {
  const numbers = names.map((name) => (name.startsWith(`${word} `) ? Number(name.slice(word.length + 1)) : NaN)).filter(Number.isInteger);
  const from = Math.max(0, ...numbers) + 1;
  return Array.from({ length: n }, (_, i) => `${word} ${from + i}`);
}
