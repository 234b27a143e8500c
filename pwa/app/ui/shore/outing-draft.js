// A plan while it is written: kept at every stroke, so that a reload loses nothing.

import { effect, signal } from '@preact/signals';
import { dropDraft, keepDraft, keptDraft } from '../../data/drafts.js';

/** @typedef {import('./outing-fields.js').Trip} Trip */

/**
 * Opens the draft of a plan.
 * @param {string} key of the draft
 * @param {Trip} start
 * @param {(kept: Trip) => boolean} usable whether a kept draft still fits
 */
export function openTrip(key, start, usable) {
  const trip = signal(start);
  const found = signal(false);
  let stop = () => {};
  let ended = false;
  const read = keptDraft(key).then((kept) => {
    if (ended) return;
    if (kept && trip.peek() === start && usable(kept)) {
      trip.value = kept;
      found.value = true;
    }
    stop = effect(() => {
      if (trip.value !== start) keepDraft(key, trip.value);
    });
  });
  return {
    trip, found, read,
    /** @param {Partial<Trip>} change */
    set: (change) => void (trip.value = { ...trip.peek(), ...change }),
    /** @param {boolean} dropIt it is saved or given up */
    end: async (dropIt) => {
      ended = true;
      stop();
      if (dropIt) await dropDraft(key);
    },
  };
}

/** @typedef {ReturnType<typeof openTrip>} Draft */
