// What readings and events say of one tank or system: its own and those of the water that it
// shares, the latest first.

import { computed } from '@preact/signals';
import { events, readings, specimenOf, systemOf, tankOf } from './picture-state.js';

/** @typedef {Record<string, any> & {id: string}} Fields */

/**
 * The names under which the water of a tank or system was read: its own, that of its system,
 * and those of all its tanks.
 * @param {string} ref "tank/…" or "system/…"
 */
export function namesOf(ref) {
  const system = systemOf(ref);
  return new Set([ref, ...(system ? [system.ref] : []), ...(system?.state?.tanks ?? []).map((id) => `tank/${id}`)]);
}

/**
 * Its readings, the latest first.
 * @param {string} ref
 * @returns {Fields[]}
 */
export function readingsOf(ref) {
  const names = namesOf(ref);
  return readings.value.filter(({ sample }) => sample && names.has(sample.of)).sort((a, b) => Date.parse(b.sample.at) - Date.parse(a.sample.at) || (a.id < b.id ? 1 : -1));
}

/**
 * The last reading of each kind.
 * @param {string} ref
 * @returns {Partial<Record<import('./reading-kinds.js').Kind, {value: any, at: string, of: string, id: string, whole: Fields}>>}
 */
export function lastOf(ref) {
  /** @type {Record<string, any>} */
  const last = {};
  for (const whole of readingsOf(ref)) {
    for (const [kind, value] of Object.entries(whole)) {
      if (value !== null && kind !== 'sample' && kind !== 'id' && !(kind in last)) last[kind] = { value, at: whole.sample.at, of: whole.sample.of, id: whole.id, whole };
    }
  }
  return last;
}

/** Changes of water and top-ups on file, by what they are of. */
const given = computed(() => events.value.flatMap(({ id, waterChanged, toppedUp }) => {
  const is = waterChanged ?? toppedUp;
  return is ? [{ id, what: waterChanged ? /** @type {const} */ ('changed') : /** @type {const} */ ('toppedUp'), ...is }] : [];
}));

/**
 * What water it was given, the latest first.
 * @param {string} ref
 */
export function waterGiven(ref) {
  const names = namesOf(ref);
  return given.value.filter(({ of }) => names.has(of)).sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
}

/**
 * The litres of a tank or of all the tanks of a system; undefined where one of them is not said.
 * @param {string} ref
 */
export function volumeOf(ref) {
  const [kind, id] = ref.split('/');
  const tanks = kind === 'tank' ? [id] : systemOf(ref)?.state?.tanks ?? [];
  const all = tanks.map((one) => tankOf(one)?.volumeL);
  return all.length && all.every((l) => l > 0) ? all.reduce((sum, l) => sum + l, 0) : undefined;
}

/**
 * What a tank, or a system by its first tank that says so, is kept within.
 * @param {string} ref
 * @returns {{keeps?: Record<string, number>, targets: Record<string, any>}}
 */
export function rangesOf(ref) {
  const [kind, id] = ref.split('/');
  const tanks = (kind === 'tank' ? [id] : systemOf(ref)?.state?.tanks ?? []).map(tankOf);
  return { keeps: tanks.find((tank) => tank?.keeps)?.keeps, targets: tanks.find((tank) => tank?.targets)?.targets ?? {} };
}

/**
 * The tank that a specimen is in: as it is reckoned, or until then by its last move on file.
 * @param {string} id
 */
export function tankNow(id) {
  const reckoned = specimenOf(id)?.state?.tank;
  if (reckoned) return reckoned;
  const of = `specimen/${id}`;
  const moves = events.value.flatMap(({ arrived, moved, cleared }) => [arrived, moved, cleared].filter((one) => one?.of === of && one.tank));
  return String(moves.sort((a, b) => Date.parse(b.at) - Date.parse(a.at))[0]?.tank ?? '');
}
