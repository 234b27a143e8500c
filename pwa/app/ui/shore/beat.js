// The time on the shore: told every second while somebody looks at it there, or an outing is
// under way. A phone that wakes up is told at once.

import { computed, effect, signal } from '@preact/signals';
import { place } from '../route.js';
import { underWay } from './outing-state.js';

/** Unix milliseconds. */
export const beat = signal(Date.now());

/** To the five seconds, for what need not move every second. */
export const beatMs = computed(() => Math.floor(beat.value / 5000) * 5000);

const tick = () => (beat.value = Date.now());
effect(() => {
  if (place.value !== 'shore' && !underWay.value) return undefined;
  tick();
  const timer = setInterval(tick, 1000);
  return () => clearInterval(timer);
});
document.addEventListener('visibilitychange', tick);
addEventListener('pageshow', tick);
