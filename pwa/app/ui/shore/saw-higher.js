// Keeps that the sea was seen higher than shown, and says what came of it.

import { announce } from '../parts/announce.js';
import { waterAt } from '../../data/water.js';
import { clockAt } from './clocks.js';
import { lateBy } from './now-limits.js';
import { heights, limits } from './now-state.js';
import { sawHigher } from './outing-state.js';
import { text } from '../../text/en.js';

/**
 * @param {string} outing id
 * @param {{levelM: number} | {raisedM: number}} seen a marker rock's level, or by how much it is above the prediction
 * @returns {Promise<string>} what came of it, in words
 */
export async function keepHigher(outing, seen) {
  const t = text.staff.higher;
  const atMs = Date.now();
  const kept = heights.peek();
  // Without the water of now only the difference is known: it counts from zero.
  const predictedM = rounded((kept && waterAt(kept, atMs)?.heightM) ?? 0);
  const seenM = rounded('levelM' in seen ? seen.levelM : predictedM + seen.raisedM);
  const before = limits.peek();
  await sawHigher(outing, { seenM, predictedM, lateMin: 'levelM' in seen ? lateBy(kept, seenM, atMs) : null });
  const after = limits.peek();
  const moved = after && (after.startBackMs !== before?.startBackMs || after.offByMs !== before?.offByMs);
  const says = seenM <= predictedM ? t.same : !moved ? t.unchanged : after.startBackMs <= atMs ? t.goNow : t.now(clockAt(after.startBackMs), clockAt(after.offByMs));
  announce(says);
  return says;
}

/** @param {number} m to the millimetre, as records keep it */
const rounded = (m) => Math.round(m * 1000) / 1000;
