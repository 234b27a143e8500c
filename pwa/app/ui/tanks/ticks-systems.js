// The systems as they stand on a shelf and on a tick sheet.

import { nameOf, picture, systems, tanks } from './picture-state.js';

/** @typedef {{ref: string, name: string, quarantine: boolean, of: string[]}} Shelved of: the system and the tanks in it, as events name them */

/**
 * Every system, by where the first of its tanks stands on the shelf.
 * @returns {Shelved[]}
 */
export function onTheShelf() {
  const order = new Map(tanks.value.map(({ id }, i) => [id, i]));
  const place = (/** @type {string[]} */ list) => Math.min(Infinity, ...list.map((id) => order.get(id) ?? Infinity));
  const now = picture.value;
  if (!now) { // the core may not answer; a sheet can still be printed
    return [...systems.value.map(({ id }) => `system/${id}`), ...tanks.value.map(({ id }) => `tank/${id}`)]
      .map((ref) => ({ ref, name: nameOf(ref), quarantine: false, of: [ref] }));
  }
  return now.systems.filter(({ tanks: list }) => list.length > 0).sort((a, b) => place(a.tanks) - place(b.tanks) || nameOf(a.key).localeCompare(nameOf(b.key)))
    .map(({ key, state, tanks: list }) => ({ ref: key, name: nameOf(key), quarantine: state !== 'none', of: [key, ...list.map((id) => `tank/${id}`)] }));
}
