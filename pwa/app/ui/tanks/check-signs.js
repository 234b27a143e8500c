// What may be seen on a look, by handling group, each with the grade that it suggests. Read
// from the core once; a word of one's own is always there.

import { signal } from '@preact/signals';
import { call } from '../../core.js';
import { record } from '../../data/errors.js';
import { UNSURE, taxonNamed } from '../parts/kinds.js';
import { fitting } from './check-fitting.js';
import { specimenOf } from './picture-state.js';

/** @typedef {import('./check-fitting.js').SignWord} SignWord */

/** The numbers of every group with their sources, and the signs. */
export const handling = signal(/** @type {any} */ (undefined));
let asked = false;

/** Asks the core for them, once. */
export function recallSigns() {
  if (asked) return;
  asked = true;
  call('handling', {}).then((answer) => (handling.value = answer), (error) => {
    asked = false;
    record(`the list of signs: ${error.message}`);
  });
}

/** @param {string} id of a specimen */
export function groupOf(id) {
  const { taxon = UNSURE, group = UNSURE } = specimenOf(id) ?? {};
  return group !== UNSURE ? group : taxonNamed(taxon)?.group ?? UNSURE;
}

/**
 * Those of the core; [] until it has answered.
 * @param {string[]} groups
 */
export const signsFor = (groups) => fitting(handling.value?.signs ?? [], groups);

/** @param {string} key of a source */
export const sourceOf = (key) => String(handling.value?.sources?.[key] ?? '');
