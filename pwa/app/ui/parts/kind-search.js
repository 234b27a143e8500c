// Finding a kind by what somebody types. Nothing here but reading.

/** @typedef {import('../../data/kinds.js').Taxon} Taxon */

/** A proper answer to what something is, and to its group. */
export const UNSURE = 'unsure';

/**
 * Kinds whose common or scientific name holds all that was typed, word by word; those that
 * begin with it first.
 * @param {string} typed
 * @param {Taxon[]} list
 */
export function search(typed, list) {
  const words = typed.toLowerCase().trim().split(/\s+/).filter(Boolean);
  if (words.length === 0) return [];
  const name = (/** @type {Taxon} */ { name, common }) => `${common} ${name}`.toLowerCase();
  const starts = (/** @type {Taxon} */ taxon) => Number(!(taxon.common.toLowerCase().startsWith(words[0]) || taxon.name.toLowerCase().startsWith(words[0])));
  return list.filter((taxon) => words.every((word) => name(taxon).includes(word))).sort((a, b) => starts(a) - starts(b));
}
