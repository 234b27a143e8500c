// The form of the database, and how an older one becomes the present one.

import { uuidv7 } from './ids.js';
import { fieldsOf, fresh } from './shore-record.js';
import { makeClock } from './stamp.js';

export const VERSION = 2;

/**
 * choices: what was chosen last, by name. answers: the core's last answers. heights: by
 * station. errors: the last ones. shores: by id. changes: every change of a record, by
 * id, in the order made. drafts: forms not yet saved.
 * @typedef {'choices' | 'answers' | 'heights' | 'errors' | 'shores' | 'changes' | 'drafts'} Store
 */

/**
 * @param {import('idb').IDBPDatabase} db
 * @param {number} from the version found, 0 for none
 * @param {import('idb').Transaction} tx
 */
export async function upgrade(db, from, tx) {
  if (from < 1) {
    db.createObjectStore('choices');
    db.createObjectStore('answers');
    db.createObjectStore('heights');
    db.createObjectStore('errors', { autoIncrement: true });
  }
  if (from < 2) {
    db.createObjectStore('shores', { keyPath: 'id' });
    db.createObjectStore('changes', { keyPath: 'id' });
    db.createObjectStore('drafts');
    await moveShore(tx);
  }
}

/**
 * Version 1 had one shore, without an id, among the choices. Which release of the
 * catalogue it was set with stands in the answer kept beside it.
 * @param {import('idb').Transaction} tx
 */
async function moveShore(tx) {
  const choices = tx.objectStore('choices');
  const old = await choices.get('shore');
  if (!old) return;
  const kept = await tx.objectStore('answers').get('windows');
  const same = kept && JSON.parse(kept.question).shore.station === old.station;
  /** @type {import('./shore-record.js').Shore} */
  const shore = {
    ...fresh, ...old, id: uuidv7(), stationName: old.name, source: '', datum: '', release: same ? kept.answer.release : '',
  };
  await tx.objectStore('shores').put(shore);
  await tx.objectStore('changes').put(await change(tx, shore.id, fieldsOf(shore)));
  await choices.put(shore.id, 'chosen');
  await choices.delete('shore');
}

/**
 * One change of a shore, in the form that internal/journal reads. The phone's clock and
 * its device stand among the choices and go on in the same transaction.
 * @param {import('idb').Transaction} tx of choices, among others
 * @param {string} record
 * @param {import('./shore-record.js').Fields} fields
 */
export async function change(tx, record, fields) {
  const choices = tx.objectStore('choices');
  const kept = await choices.get('clock');
  const device = kept?.device ?? uuidv7();
  const clock = makeClock(device, kept?.last);
  const stamp = clock.next();
  await choices.put({ device, last: clock.last }, 'clock');
  return { id: uuidv7(), kind: 'shore', record, stamp, fields };
}
