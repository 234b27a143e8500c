// The papers of a member as the form shows them, and as fields of a change. Nothing here but data.

import { isDay } from './days.js';

/** @typedef {import('./named.js').Papers} Papers */
/** @typedef {{of: Papers, what: string, has: boolean, until: string, number: string}} Held */

const KINDS = /** @type {Papers[]} */ (['licences', 'rights', 'consents']);

/** @param {Record<string, any>} fields of a member @param {Papers} of @returns {[string, any][]} */
const inBook = (fields, of) => Object.entries(fields).filter(([name, value]) => name.startsWith(`${of}/`) && value);

/**
 * What rules name, and what the member holds besides.
 * @param {Record<string, any>} fields of a member
 * @param {Record<Papers, string[]>} named
 * @returns {Held[]}
 */
export const heldOf = (fields, named) => KINDS.flatMap((of) => {
  const held = new Map(inBook(fields, of).map(([, value]) => [value.what, value]));
  return [...new Set([...named[of], ...held.keys()])].map((what) => {
    const paper = held.get(what);
    return { of, what, has: Boolean(paper), until: paper?.until ?? '', number: paper?.number ?? '' };
  });
});

/**
 * What differs from the book.
 * @param {Record<string, any>} fields of a member
 * @param {Held[]} held
 * @param {() => string} mint names a new paper
 */
export function changesOf(fields, held, mint) {
  /** @type {Record<string, any>} */
  const changes = {};
  for (const { of, what, has, until, number } of held) {
    const there = inBook(fields, of).filter(([, value]) => value.what === what);
    if (!has) {
      for (const [name] of there) changes[name] = null;
      continue;
    }
    const paper = { what, ...(number.trim() ? { number: number.trim() } : {}), ...(isDay(until) ? { until } : {}) };
    const [name, was] = there[0] ?? [`${of}/${mint()}`, undefined];
    if (JSON.stringify(was) !== JSON.stringify(paper)) changes[name] = paper;
  }
  return changes;
}
