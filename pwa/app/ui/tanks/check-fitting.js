// Which signs may be seen on whom. Nothing here but choosing.

import { isWeed } from './settle-in.js';

/** @typedef {{id: string, what: string, look: string, groups: string[], grade: string, from: string, found?: boolean}} SignWord found: on or with them */

/**
 * What may be seen on some groups: * is on any, "animals" on any that is no weed.
 * @param {SignWord[]} signs
 * @param {string[]} groups none: nobody knows who is in it
 */
export function fitting(signs, groups) {
  const unsure = groups.length === 0 || groups.includes('unsure');
  const animals = unsure || groups.some((group) => !isWeed(group));
  return signs.filter(({ groups: on }) => unsure || on.includes('*') || (animals && on.includes('animals')) || on.some((group) => groups.includes(group)));
}
