// The form of an outing without a plan, kept at every stroke.

import { effect, signal } from '@preact/signals';
import { dropDraft, keepDraft, keptDraft } from '../../data/drafts.js';

const KEY = 'shore:go';
const empty = { adults: 1, children: 0, who: '', call: '', due: '' };

/** @typedef {typeof empty} Go */

/** Opens the draft. */
export function openGo() {
  const fields = signal(empty);
  const found = signal(false);
  let stop = () => {};
  let ended = false;
  keptDraft(KEY).then((/** @type {Go | undefined} */ kept) => {
    if (ended) return;
    if (kept && fields.peek() === empty) {
      fields.value = { ...empty, ...kept };
      found.value = true;
    }
    stop = effect(() => void (fields.value !== empty && keepDraft(KEY, fields.value)));
  });
  return {
    fields, found,
    /** @param {Partial<Go>} change */
    set(change) {
      fields.value = { ...fields.peek(), ...change };
    },
    /** @param {boolean} dropIt it is written */
    async end(dropIt) {
      ended = true;
      stop();
      if (dropIt) await dropDraft(KEY);
    },
  };
}
