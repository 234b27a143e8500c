// The numbers of the handling groups, asked of the core once, and the household's own.

import { computed, signal } from '@preact/signals';
import { call } from '../../core.js';
import { records } from '../../data/book.js';
import { HOUSEHOLD } from '../../data/household.js';

export const numbers = signal(/** @type {any} */ (undefined));
let asked = false;

export function recallNumbers() {
  if (asked) return;
  asked = true;
  call('handling', {}).then((answer) => (numbers.value = answer), () => (asked = false));
}

/** The household's own numbers, by group. */
export const own = computed(() => Object.fromEntries(Object.entries(records('household').value.find(({ id, deleted }) => id === HOUSEHOLD && !deleted)?.fields ?? {})
  .flatMap(([field, value]) => (field.startsWith('handling/') && value ? [[field.slice('handling/'.length), value]] : []))));
