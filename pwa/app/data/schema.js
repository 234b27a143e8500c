// The form of the database, and how an older one becomes the present one.

import { uuidv7 } from './ids.js';
import { mint, takeIn } from './journal.js';
import { fieldsOf, fresh } from './shore-record.js';

export const VERSION = 3;

/**
 * choices: what was chosen last and what this phone knows of itself, by name. answers: the
 * core's last answers. heights: by station. errors: the last ones. drafts: forms not yet
 * saved. changes: every change of a record, by id. folds: what the core needs to go on
 * folding, by kind and id. records: what the changes fold to, by kind and id. photos:
 * whole ones that the server has not, and thumbs: small ones of all, by SHA-256.
 * @typedef {'choices' | 'answers' | 'heights' | 'errors' | 'drafts' | 'changes' | 'folds' | 'records' | 'photos' | 'thumbs'} Store
 */

/**
 * @param {import('idb').IDBPDatabase} db
 * @param {number} from the version found, 0 for none
 * @param {import('./journal.js').Transaction} tx
 */
export async function upgrade(db, from, tx) {
  if (from < 1) {
    db.createObjectStore('choices');
    db.createObjectStore('answers');
    db.createObjectStore('heights');
    db.createObjectStore('errors', { autoIncrement: true });
  }
  if (from < 2) {
    db.createObjectStore('changes', { keyPath: 'id' });
    db.createObjectStore('drafts');
  }
  if (from < 3) {
    const changes = tx.objectStore('changes');
    changes.createIndex('outbox', 'outbox');
    changes.createIndex('record', ['kind', 'record']);
    db.createObjectStore('folds', { keyPath: ['kind', 'id'] }).createIndex('due', 'due');
    db.createObjectStore('records', { keyPath: ['kind', 'id'] });
    db.createObjectStore('photos', { keyPath: 'sha' }).createIndex('outbox', 'outbox');
    db.createObjectStore('thumbs', { keyPath: 'sha' });
  }
  if (from === 1) await moveShore(tx);
  if (from === 2) await moveShores(db, tx);
}

/**
 * Version 1 had one shore, without an id, among the choices. Which release of the
 * catalogue it was set with stands in the answer kept beside it.
 * @param {import('./journal.js').Transaction} tx
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
  await keep(tx, shore, [await mint(tx, 'shore', shore.id, fieldsOf(shore))]);
  await choices.put(shore.id, 'chosen');
  await choices.delete('shore');
}

/**
 * Version 2 had the shores in a store of their own, with their changes beside it, none of
 * which had gone anywhere yet.
 * @param {import('idb').IDBPDatabase} db
 * @param {import('./journal.js').Transaction} tx
 */
async function moveShores(db, tx) {
  const changes = tx.objectStore('changes');
  /** @type {import('./journal.js').Change[]} */
  const written = (await changes.getAll()).map((change) => ({ ...change, outbox: change.stamp }));
  await changes.clear(); // takeIn puts them back
  for (const shore of await tx.objectStore('shores').getAll()) {
    await keep(tx, shore, written.filter((change) => change.record === shore.id));
  }
  db.deleteObjectStore('shores');
}

/**
 * @param {import('./journal.js').Transaction} tx
 * @param {import('./shore-record.js').Shore} shore
 * @param {import('./journal.js').Change[]} changes
 */
async function keep(tx, shore, changes) {
  await takeIn(tx, changes);
  await tx.objectStore('records').put({ kind: 'shore', id: shore.id, fields: fieldsOf(shore), flags: [], deleted: shore.deleted === true });
}
