// The systems as they stand on a shelf and on a tick sheet. Read from the book alone, so that
// a sheet can be printed and typed in where the core does not answer.

import { events, nameOf, systems, tanks } from './picture-state.js';
import { systemsOf } from './ticks-shelf.js';

/** @typedef {{ref: string, name: string, of: string[]}} Shelved of: the system and the tanks in it, as events name them */

/**
 * Every system that has a tank, by where the first of its tanks stands on the shelf.
 * @returns {Shelved[]}
 */
export const onTheShelf = () => systemsOf(tanks.value.map(({ id }) => id), systems.value.map(({ id }) => id), events.value)
  .map((of) => ({ ref: of[0], name: nameOf(of[0]), of }));
