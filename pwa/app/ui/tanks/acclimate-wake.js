// Keeps the screen awake while something drips, on request. A phone may refuse, and lets go of
// it whenever the app is left; it is asked again on return, and what is so is said.

import { effect, signal } from '@preact/signals';
import { keepDraft, keptDraft } from '../../data/drafts.js';

const KEY = 'acclimate:awake';

/** Whether it is wanted; kept, so that a reload changes nothing. */
export const wanted = signal(false);

/** @type {import('@preact/signals').Signal<'off' | 'on' | 'refused' | 'let-go' | 'unknown'>} */
export const awake = signal(/** @type {'off' | 'on' | 'refused' | 'let-go' | 'unknown'} */ ('off'));

/** @typedef {EventTarget & {release(): Promise<void>}} Held */
/** @type {Held | undefined} */
let held;
let shown = false;

async function hold() {
  if (held || !shown || !wanted.peek() || document.visibilityState !== 'visible') return;
  const { wakeLock } = /** @type {{wakeLock?: {request(of: 'screen'): Promise<Held>}}} */ (navigator);
  if (!wakeLock) return void (awake.value = 'unknown');
  try {
    const got = await wakeLock.request('screen');
    if (held || !shown || !wanted.peek()) return void got.release();
    held = got;
    awake.value = 'on';
    got.addEventListener('release', () => {
      held = undefined;
      awake.value = wanted.peek() && shown ? 'let-go' : 'off';
    });
  } catch {
    awake.value = 'refused'; // a low battery, or a setting
  }
}

let recalled = false;

/**
 * Holds it, if it is wanted, for as long as the page is shown.
 * @returns {() => void} lets go
 */
export function whileShown() {
  shown = true;
  if (!recalled) {
    recalled = true;
    keptDraft(KEY).then((kept) => kept?.wanted && (wanted.value = true));
  }
  const stop = effect(() => {
    if (wanted.value) hold();
    else {
      held?.release();
      awake.value = 'off';
    }
  });
  document.addEventListener('visibilitychange', hold);
  return () => {
    shown = false;
    stop();
    document.removeEventListener('visibilitychange', hold);
    held?.release();
  };
}

/** @param {boolean} is */
export function want(is) {
  wanted.value = is;
  keepDraft(KEY, { wanted: is });
}
