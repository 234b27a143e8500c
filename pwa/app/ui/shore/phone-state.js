// How this phone behaves on the shore: locked against a pocket, its screen awake, dim by
// night. It is kept, so that a reload changes none of it.

import { computed, effect, signal } from '@preact/signals';
import { keepOnShore, keptOnShore } from '../../data/on-shore.js';
import { place } from '../route.js';
import { dark } from './now-state.js';
import { underWay } from './outing-state.js';

/** @typedef {import('../../data/on-shore.js').OnShore} OnShore */

const kept = signal(/** @type {OnShore} */ ({ locked: false, awake: false, dim: null, heard: { outing: '', rank: 0 } }));

/** Whether what was kept has been read. */
export const phoneRead = signal(false);

keptOnShore().then((was) => {
  kept.value = { ...kept.peek(), ...was };
  phoneRead.value = true;
});

/** @param {Partial<OnShore>} change */
export function setPhone(change) {
  kept.value = { ...kept.peek(), ...change };
  keepOnShore(kept.peek());
}

export const locked = computed(() => kept.value.locked && Boolean(underWay.value));
export const awake = computed(() => kept.value.awake && Boolean(underWay.value));
export const heard = computed(() => kept.value.heard);

/** Whether the screen is dim: by choice, or else where the sun is down. */
export const dim = computed(() => (underWay.value || place.value === 'shore') && (kept.value.dim ?? dark.value));

effect(() => {
  document.documentElement.toggleAttribute('data-dim', Boolean(dim.value));
});
