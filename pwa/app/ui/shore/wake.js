// Keeps the screen awake on request. A phone may refuse, and lets go of it whenever the app
// is left; it is asked again on return, and what is so is said.

import { effect, signal } from '@preact/signals';
import { awake } from './phone-state.js';

/**
 * off: not wanted. on: held. refused: the phone said no. let-go: it held and the phone let
 * go. unknown: this browser has no such thing.
 * @typedef {'off' | 'on' | 'refused' | 'let-go' | 'unknown'} Wake
 */
export const wake = signal(/** @type {Wake} */ ('off'));

/**
 * What the browser gives for a screen that stays awake (W3C Screen Wake Lock).
 * @typedef {EventTarget & {release(): Promise<void>}} Held
 */

/** @type {Held | undefined} */
let held;

async function hold() {
  if (held || !awake.peek() || document.visibilityState !== 'visible') return;
  const { wakeLock } = /** @type {{wakeLock?: {request(of: 'screen'): Promise<Held>}}} */ (navigator);
  if (!wakeLock) return void (wake.value = 'unknown');
  try {
    const got = await wakeLock.request('screen');
    if (!awake.peek() || held) return void got.release();
    held = got;
    wake.value = 'on';
    got.addEventListener('release', () => {
      held = undefined;
      wake.value = awake.peek() ? 'let-go' : 'off';
    });
  } catch {
    wake.value = 'refused'; // a low battery, or a setting
  }
}

effect(() => {
  if (awake.value) hold();
  else {
    held?.release();
    wake.value = 'off';
  }
});
document.addEventListener('visibilitychange', hold);
addEventListener('pageshow', hold);
