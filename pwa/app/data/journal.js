// What this phone and the household's other devices have written, change by change, in
// the form that internal/journal reads. Changes that the core has not folded yet wait in
// the store `folds`; those that the server has not acknowledged stand in the index
// `outbox` of the store `changes`, by stamp, which is the order of writing.

import { uuidv7 } from './ids.js';
import { makeClock } from './stamp.js';

/** @typedef {{seq: number, atMs: number, refused?: string}} Receipt the server's word on a change */

/**
 * `outbox` is the stamp as long as the server has not answered; `unfit` is why it will
 * never take this change.
 * @typedef {{id: string, kind: string, record: string, stamp: string, fields: Record<string, any>,
 *   receipt?: Receipt, outbox?: string, unfit?: string}} Change
 */

/**
 * How far the fold of a record has come. data is the core's, fresh are the changes that it
 * has not seen, due says that there are any; version counts the folds, from anywhere.
 * @typedef {{kind: string, id: string, data: string, fresh: Change[], due?: 1, version: number}} Folded
 */

/** The stores that a transaction of takeIn needs; mint needs choices as well. */
export const JOURNAL = /** @type {const} */ (['changes', 'folds']);

/** @typedef {import('idb').Transaction} Transaction */

/**
 * This device's clock; call keep with it in the same transaction when it has moved.
 * @param {Transaction} tx of choices, among others
 */
export async function openClock(tx) {
  const choices = tx.objectStore('choices');
  const kept = await choices.get('clock');
  const device = kept?.device ?? uuidv7();
  const clock = makeClock(device, kept?.last);
  return { device, clock, keep: () => choices.put({ device, last: clock.last }, 'clock') };
}

/**
 * A new change by this device.
 * @param {Transaction} tx of choices, among others
 * @param {string} kind
 * @param {string} record
 * @param {Record<string, any>} fields
 * @returns {Promise<Change>}
 */
export async function mint(tx, kind, record, fields) {
  const { clock, keep } = await openClock(tx);
  const stamp = clock.next();
  await keep();
  return { id: uuidv7(), kind, record, stamp, fields, outbox: stamp };
}

/**
 * Puts changes into the journal and before the fold. One that is here already with the
 * same receipt changes nothing.
 * @param {Transaction} tx of JOURNAL, among others
 * @param {Change[]} list
 */
export async function takeIn(tx, list) {
  const changes = tx.objectStore('changes');
  const folds = tx.objectStore('folds');
  for (const change of list) {
    const known = await changes.get(change.id);
    if (known && known.receipt?.seq === change.receipt?.seq && known.receipt?.atMs === change.receipt?.atMs) continue;
    await changes.put(change);
    if (change.unfit) continue;
    /** @type {Folded} */
    const fold = (await folds.get([change.kind, change.record])) ?? { kind: change.kind, id: change.record, data: '', fresh: [], version: Math.floor(Math.random() * 2 ** 31) };
    fold.fresh.push(bare(change));
    fold.due = 1;
    await folds.put(fold);
  }
}

/**
 * Has a record folded again from its changes, without those that the server will never take.
 * @param {Transaction} tx of JOURNAL, among others
 * @param {string} kind
 * @param {string} id
 */
export async function foldAnew(tx, kind, id) {
  const folds = tx.objectStore('folds');
  const changes = /** @type {Change[]} */ (await tx.objectStore('changes').index('record').getAll([kind, id]));
  const was = await folds.get([kind, id]);
  await folds.put({ kind, id, data: '', fresh: changes.filter(({ unfit }) => !unfit).map(bare), due: 1, version: (was?.version ?? 0) + 1 });
}

/**
 * A change as core and server know it.
 * @param {Change} change
 * @returns {Change}
 */
export function bare({ id, kind, record, stamp, fields, receipt }) {
  return { id, kind, record, stamp, fields, ...(receipt ? { receipt } : {}) };
}
