// What the rules on file call things by: words for gear and use, and papers of persons. Nothing
// here but reading.

/** @typedef {'licences' | 'rights' | 'consents'} Papers */
/** @typedef {{document: Record<string, any>}} Held */

/** @param {Held[]} sets @returns {any[]} */
const rulesIn = (sets) => sets.flatMap(({ document }) => Object.values(document.rules ?? {}));
/** @param {any[]} words @returns {string[]} */
const once = (words) => [...new Set(words.filter(Boolean))].sort();

/**
 * @param {Held[]} sets
 * @param {'gear' | 'use' | 'substrate'} part
 */
export const wordsNamed = (sets, part) => once(rulesIn(sets).flatMap((rule) => [...(rule[part]?.only ?? []), ...(rule[part]?.never ?? [])]));

/**
 * The papers that rules ask for, or by which they exempt.
 * @param {Held[]} sets
 * @returns {Record<Papers, string[]>}
 */
export function papersNamed(sets) {
  const all = rulesIn(sets);
  return {
    licences: once(all.flatMap((rule) => [rule.person?.licence, ...(rule.unless?.licences ?? [])])),
    rights: once(all.flatMap((rule) => rule.unless?.rights ?? [])),
    consents: once(all.map((rule) => rule.person?.consent)),
  };
}
