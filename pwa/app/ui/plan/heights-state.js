// Fourteen days of heights of a shore, for the water now: those that were kept at once,
// those that the core reckons as soon as it is up.

import { computed, effect, signal } from '@preact/signals';
import { call, catalogue, state } from '../../core.js';
import { keptHeights, keepHeights, BEFORE_HOURS, STEP_MINUTES, DAYS } from '../../data/heights.js';
import { localDay } from '../parts/when.js';
import { now } from '../parts/now.js';
import { curveOf } from './curve.js';
import { waterRequest } from './shore-state.js';

/** @typedef {import('./shore-state.js').Shore} Shore */
/** @typedef {import('../../data/heights.js').Heights} Heights */

/**
 * @param {import('@preact/signals').ReadonlySignal<Shore | undefined>} of
 * @returns {{heights: import('@preact/signals').ReadonlySignal<Heights | undefined>, fresh: import('@preact/signals').ReadonlySignal<boolean>, looked: import('@preact/signals').ReadonlySignal<boolean>}}
 *   fresh: the core has reckoned them since the app was opened; looked: what was kept, if anything, has been read
 */
export function heightsOf(of) {
  const heights = signal(/** @type {Heights | undefined} */ (undefined));
  const fresh = signal(false);
  const looked = signal(false);
  const day = computed(() => of.value && localDay(now.value, of.value.zone));
  effect(() => {
    const at = of.value;
    if (!at) return void (heights.value = undefined);
    const basis = JSON.stringify(waterRequest(at));
    const here = () => of.peek() === at;
    if (heights.peek()?.shore !== at.id || heights.peek()?.basis !== basis) {
      heights.value = undefined;
      fresh.value = false;
      looked.value = false;
      keptHeights(at.id).then((kept) => {
        if (!here()) return;
        if (kept?.basis === basis) heights.value ??= kept;
        looked.value = true;
      });
    }
    if (state.value === 'ready' && catalogue.value === 'open' && day.value) {
      reckoned(at, basis).then((found) => {
        if (!here()) return;
        heights.value = found;
        fresh.value = true;
      }, () => {});
    }
  });
  return { heights, fresh, looked };
}

/**
 * Plan and Shore ask for the same within a moment.
 * @type {{of: string, at: number, answer: Promise<Heights>} | undefined}
 */
let last;
const SAME_MS = 60_000;

/** @param {Shore} at @param {string} basis */
function reckoned(at, basis) {
  const of = at.id + basis;
  if (last?.of !== of || Date.now() - last.at > SAME_MS) last = { of, at: Date.now(), answer: reckon(at, basis) };
  last.answer.catch(() => (last = undefined));
  return last.answer;
}

/**
 * Keeps fourteen days of heights, and some hours before now: what was seen on an outing is
 * held against the water of that time.
 * @param {Shore} at
 * @param {string} basis
 * @returns {Promise<Heights>}
 */
async function reckon(at, basis) {
  const stepMs = STEP_MINUTES * 60_000;
  const atMs = Date.now();
  const startMs = Math.floor(atMs / stepMs) * stepMs - BEFORE_HOURS * 3_600_000;
  const answer = await call('heights', {
    ...waterRequest(at), from: new Date(startMs).toISOString(),
    to: new Date(atMs + DAYS * 86_400_000).toISOString(), every: `${STEP_MINUTES}m`,
  });
  const kept = { shore: at.id, basis, atMs, ...curveOf(answer.heights, stepMs) };
  keepHeights(kept);
  return kept;
}
