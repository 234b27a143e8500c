// The kinds that a household logs most lately.

import { UNSURE } from '../parts/kind-search.js';

/** @typedef {{taxon: string, group: string}} Kind */

/** How many are offered. */
const MOST = 8;
/** How far back they are looked for: enough for every kind that somebody still remembers. */
const LOOK = 1500;

/**
 * The kinds met last, those of one shore first.
 * @param {import('../../data/book.js').Rec[]} list the newest last
 * @param {string | undefined} shore id
 * @returns {Kind[]}
 */
export function recentOf(list, shore) {
  const [near, far] = /** @type {Map<string, Kind>[]} */ ([new Map(), new Map()]);
  for (let i = list.length - 1; i >= 0 && i >= list.length - LOOK && near.size < MOST; i--) {
    const { fields, deleted } = list[i];
    if (deleted || !fields.taxon || fields.taxon === UNSURE) continue;
    const into = fields.shore && fields.shore === shore ? near : far;
    if (!into.has(fields.taxon)) into.set(fields.taxon, { taxon: fields.taxon, group: fields.group ?? UNSURE });
  }
  for (const [taxon, kind] of far) if (!near.has(taxon)) near.set(taxon, kind);
  return [...near.values()].slice(0, MOST);
}
