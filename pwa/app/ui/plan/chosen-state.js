// Up to three chosen windows. One that has passed, or whose shore has changed, is taken
// off with a word.

import { effect, signal } from '@preact/signals';
import { keepMornings, keptMornings } from '../../data/chosen.js';
import { now } from '../parts/now.js';
import { recalled as shoresRecalled, shoreRequest, shores } from './shore-state.js';
import { text } from '../../text/en.js';

/** @typedef {import('../../data/chosen.js').Chosen} Chosen */
/** @typedef {import('./shore-state.js').Shore} Shore */

export const MOST = 3;

export const chosen = signal(/** @type {Chosen[]} */ ([]));
/** What was taken off and why, in words. */
export const takenOff = signal('');

const recalled = signal(false);

/** Reads the chosen windows that were kept. */
export async function recallChosen() {
  chosen.value = (await keptMornings()) ?? [];
  recalled.value = true;
}

/** @param {Chosen[]} next */
function set(next) {
  chosen.value = next.sort((a, b) => (a.usableFrom < b.usableFrom ? -1 : 1));
  keepMornings(chosen.value);
}

/** @param {Shore} shore @param {any} w */
export const isChosen = (shore, w) => chosen.value.some((one) => one.shore === shore.id && one.lowTime === w.low.time);

/**
 * Chooses a window, or takes it off.
 * @param {Shore} shore
 * @param {any} w
 * @returns {boolean} false where three are chosen already
 */
export function toggle(shore, w) {
  const others = chosen.peek().filter((one) => one.shore !== shore.id || one.lowTime !== w.low.time);
  takenOff.value = '';
  if (others.length < chosen.peek().length) return set(others), true;
  if (others.length >= MOST) return false;
  set([...others, {
    shore: shore.id, basis: basis(shore), name: shore.name, zone: shore.zone, day: w.day,
    usableFrom: w.usableFrom, usableTo: w.usableTo, lowTime: w.low.time, lowHeight: w.low.height,
    startBack: w.startBack, offBy: w.offBy,
    dark: w.cautions.some((/** @type {{code: string}} */ note) => note.code === 'night'),
  }]);
  return true;
}

export function clear() {
  takenOff.value = '';
  set([]);
}

/** @param {Shore} shore */
const basis = (shore) => JSON.stringify(shoreRequest(shore));

effect(() => {
  if (!recalled.value || !shoresRecalled.value) return;
  const list = chosen.value;
  const stands = (/** @type {Chosen} */ one) => shores.value.some((shore) => shore.id === one.shore && basis(shore) === one.basis);
  const fresh = list.filter((one) => Date.parse(one.usableTo) > now.value);
  const valid = fresh.filter(stands);
  if (valid.length === list.length) return;
  const t = text.chosen;
  const passed = list.length - fresh.length;
  const changed = fresh.length - valid.length;
  takenOff.value = [passed && t.passed(passed), changed && t.changed(changed)].filter(Boolean).join(' ');
  set(valid);
});
