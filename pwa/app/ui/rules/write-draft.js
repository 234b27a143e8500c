// The set that is being written. It is kept on the phone with every change, so that a reload
// loses nothing, and is no part of the book before it is whole.

import { signal } from '@preact/signals';
import { dropDraft, keepDraft, keptDraft } from '../../data/drafts.js';
import { newChecked } from './checked-form.js';

/**
 * of: 'new', or the id of the set that is changed. from: that set as it was then, '' for a new one.
 * @typedef {{of: string, from: string, set: import('./write-fields.js').SetWritten, checked: import('./checked-form.js').CheckedWritten}} Draft
 */

const name = (/** @type {string} */ of) => `rules-${of}`;

/** The one on the screen. */
export const draft = signal(/** @type {Draft | undefined} */ (undefined));

/**
 * Reads what was begun; what was begun from a set that has changed since is let go.
 * @param {string} of
 * @param {string} from the set as it is now
 * @returns {Promise<Draft | undefined>}
 */
export async function recall(of, from) {
  const kept = draft.peek()?.of === of ? draft.peek() : await keptDraft(name(of)).catch(() => undefined);
  draft.value = kept?.set && kept.from === from ? { ...kept, of } : undefined;
  return draft.peek();
}

/**
 * @param {string} of
 * @param {import('./write-fields.js').SetWritten} set
 * @param {string} [from]
 * @param {Partial<import('./checked-form.js').CheckedWritten>} [checked]
 */
export function begin(of, set, from = '', checked = {}) {
  draft.value = { of, from, set, checked: { ...newChecked(), ...checked } };
  return keepDraft(name(of), draft.value);
}

/** @param {Partial<import('./write-fields.js').SetWritten>} change */
export function setDraft(change) {
  const now = draft.peek();
  if (!now) return;
  draft.value = { ...now, set: { ...now.set, ...change } };
  keepDraft(name(now.of), draft.value);
}

/** @param {number} i @param {Partial<import('./rule-fields.js').RuleWritten>} change */
export function setRule(i, change) {
  const rules = draft.peek()?.set.rules ?? [];
  setDraft({ rules: rules.map((rule, j) => (j === i ? { ...rule, ...change } : rule)) });
}

/** @param {Partial<import('./checked-form.js').CheckedWritten>} change */
export function setChecked(change) {
  const now = draft.peek();
  if (!now) return;
  draft.value = { ...now, checked: { ...now.checked, ...change } };
  keepDraft(name(now.of), draft.value);
}

/** @param {string} of */
export async function drop(of) {
  if (draft.peek()?.of === of) draft.value = undefined;
  await dropDraft(name(of));
}
