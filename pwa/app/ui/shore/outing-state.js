// The outing that is under way or comes next, and what is written of it. Everything is
// saved on the phone before it shows.

import { computed, signal } from '@preact/signals';
import { records, write } from '../../data/book.js';
import { uuidv7 } from '../../data/ids.js';
import { thisDevice } from '../../data/this-device.js';
import { outingOf } from './outing.js';

/** @typedef {import('./outing.js').Outing} Outing */

/** Every outing that is not deleted, newest first. */
export const outings = computed(() => records('outing').value
  .filter(({ deleted }) => !deleted).map(outingOf)
  .sort((a, b) => start(b) - start(a)));

/** @param {Outing} outing */
const start = ({ startedMs, planned }) => startedMs ?? (planned ? Date.parse(planned.from) : 0);

/** The one that is under way: started and not ended. */
export const underWay = computed(() => outings.value.find(({ startedMs, endedMs }) => startedMs !== null && endedMs === null));

/** The household's members who are not deleted. */
export const members = computed(() => records('member').value.filter(({ deleted }) => !deleted)
  .map(({ id, fields }) => ({ id, name: String(fields.name ?? ''), as: fields.age === 'child' ? 'child' : 'adult' }))
  .sort((a, b) => a.name.localeCompare(b.name)));

/** Whose phone this is, if a keeper has said so; null otherwise. */
export const owner = computed(() => {
  const found = records('device').value.find(({ id, deleted }) => id === thisDevice.value && !deleted);
  return found?.fields.member ?? null;
});

/** The present instant as records write it: RFC 3339 UTC to the second. */
export const instant = (ms = Date.now()) => `${new Date(ms).toISOString().slice(0, 19)}Z`;

const stamped = () => ({ at: instant(), by: owner.peek() });

/**
 * Plans an outing.
 * @param {Record<string, any>} fields
 * @returns {Promise<{id: string, kept: boolean}>}
 */
export async function plan(fields) {
  const id = uuidv7();
  return { id, kept: await write('outing', id, { purpose: 'home', ...fields }) };
}

/** Whether this phone refused to keep something of an outing: it is on the screen alone. */
export const unkept = signal(false);

/** @param {string} id of the outing @param {Record<string, any>} fields */
export async function set(id, fields) {
  const kept = await write('outing', id, fields);
  unkept.value = !kept;
  return kept;
}

/** @param {string} id */
export const startOuting = (id) => set(id, { started: stamped() });
/** @param {string} id */
export const endOuting = (id) => set(id, { ended: stamped() });
/** @param {string} id */
export const alarmsAreSet = (id) => set(id, { alarms: stamped() });
/** @param {string} id @param {number} count */
export const countHeads = (id, count) => set(id, { [`heads/${uuidv7()}`]: { ...stamped(), count } });
/** @param {string} id */
export const heardThunder = (id) => set(id, { [`thunder/${uuidv7()}`]: stamped() });

/**
 * The sea was seen higher than shown.
 * @param {string} id
 * @param {{seenM: number, predictedM: number, lateMin: number | null}} seen lateMin: by how much earlier (below zero) or later than predicted the sea reached seenM
 */
export const sawHigher = (id, seen) => set(id, { [`higher/${uuidv7()}`]: { ...stamped(), ...seen } });
