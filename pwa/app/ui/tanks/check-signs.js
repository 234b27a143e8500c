// What may be seen on a look, by handling group, each with the grade that it suggests. Read
// from the core once; a word of one's own is always there.

import { computed, signal } from '@preact/signals';
import { call } from '../../core.js';
import { record } from '../../data/errors.js';
import { records } from '../../data/book.js';
import { taxonNamed } from '../parts/kinds.js';
import { isWeed } from './settle-in.js';
import { specimenOf } from './picture-state.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @typedef {{what: string, grade: string, why?: string}} SignWord */

const handling = signal(/** @type {any} */ (undefined));
let asked = false;

/** Reads them, where they are not read. */
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
  const one = specimenOf(id);
  const find = records('find').value.find((rec) => rec.id === one?.find);
  return one?.group && one.group !== 'unsure' ? one.group : taxonNamed(find?.fields.taxon ?? one?.taxon ?? '')?.group ?? 'unsure';
}

/** Every sign there is a word for, by group. */
const all = computed(() => handling.value?.signs);

/**
 * What may be seen on some of them, what any may have last.
 * @param {string[]} groups
 * @returns {SignWord[]}
 */
export function signsFor(groups) {
  void all.value;
  const weeds = groups.some((group) => isWeed(group) || group === 'unsure');
  const animals = groups.some((group) => !isWeed(group));
  return [...(weeds ? text.check.weeds : []), ...(animals ? text.check.animals : []), ...text.check.any];
}
