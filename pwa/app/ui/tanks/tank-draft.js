// A form of Tanks while it is filled in: a signal for each field, kept at every stroke so that
// a reload loses nothing.

import { effect, signal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { dropDraft, keepDraft, keptDraft } from '../../data/drafts.js';

/** @typedef {import('@preact/signals').Signal<string>} Words */

/**
 * @param {string} key of the draft
 * @param {Record<string, string>} start every field by its name
 */
export function openDraft(key, start) {
  /** @type {Record<string, Words>} */
  const fields = Object.fromEntries(Object.entries(start).map(([name, words]) => [name, signal(words)]));
  const typed = () => Object.fromEntries(Object.entries(fields).map(([name, { value }]) => [name, value]));
  const found = signal(false);
  const differs = (/** @type {Record<string, string>} */ now) => Object.keys(start).some((name) => now[name] !== start[name]);
  let stop = () => {};
  let ended = false;
  const read = keptDraft(key).then((/** @type {Record<string, string> | undefined} */ kept) => {
    if (ended) return;
    if (kept && !differs(Object.fromEntries(Object.entries(fields).map(([name, is]) => [name, is.peek()])))) {
      for (const [name, words] of Object.entries(kept)) if (fields[name] && typeof words === 'string') fields[name].value = words;
      found.value = differs(kept);
    }
    stop = effect(() => {
      const now = typed();
      if (differs(now)) keepDraft(key, now);
    });
  });
  return {
    fields, found, read, typed,
    /** @param {Record<string, string>} change */
    set(change) {
      for (const [name, words] of Object.entries(change)) if (fields[name]) fields[name].value = words;
    },
    /** @param {boolean} dropIt it is saved or given up */
    async end(dropIt) {
      ended = true;
      stop();
      if (dropIt) await dropDraft(key);
    },
  };
}

/** @typedef {ReturnType<typeof openDraft>} Draft */

/**
 * The draft of a form for as long as it is on the screen.
 * @param {string} key
 * @param {() => Record<string, string>} start
 */
export function useDraft(key, start) {
  const draft = useMemo(() => openDraft(key, start()), [key]);
  useEffect(() => () => void draft.end(false), [draft]);
  return draft;
}
