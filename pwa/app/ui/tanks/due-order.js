// The order of what is to be done, and what is told in one line because there is much of it.
// Nothing here but sorting.

/** @typedef {import('./picture-state.js').Due} Due */

/** What cannot wait comes first. */
const GRAVITY = ['ask', 'question', 'sign', 'check', 'confirm', 'clear', 'search', 'dip', 'topUp', 'waterChange', 'read', 'trim'];

/** From so many of one kind on they are told in one line. */
export const MANY = 3;

/** @typedef {{what: string, overdue: boolean, list: Due[]}} Group list: one, or as many as are told together */

/**
 * @param {Due[]} due
 * @returns {Group[]} what is overdue first, then by gravity; many of one kind together
 */
export function grouped(due) {
  /** @type {Map<string, Due[]>} */
  const kinds = new Map();
  for (const one of due) kinds.set(one.what, [...(kinds.get(one.what) ?? []), one]);
  const groups = [...kinds].flatMap(([what, list]) => (list.length >= MANY && what !== 'ask' ? [{ what, list }] : list.map((one) => ({ what, list: [one] }))))
    .map((group) => ({ ...group, overdue: group.list.some(({ overdue }) => overdue) }));
  const place = (/** @type {Group} */ { what }) => (GRAVITY.includes(what) ? GRAVITY.indexOf(what) : GRAVITY.length);
  const grave = (/** @type {Group} */ { what }) => what === 'ask';
  return groups.sort((a, b) => Number(grave(b)) - Number(grave(a)) || Number(b.overdue) - Number(a.overdue) || place(a) - place(b));
}
