// The one IndexedDB connection of this page. A phone without storage still works: reads
// then give undefined, writes say that they were not kept, and `storage` says why.

import { openDB } from 'idb';
import { signal } from '@preact/signals';
import { VERSION, upgrade } from './schema.js';

/**
 * ok: keeps things. blocked: another tab holds an older database open. stepped-aside:
 * another tab has a newer version; reload this one. none: cannot be opened.
 * @typedef {'ok' | 'blocked' | 'stepped-aside' | 'none'} Storage
 */
export const storage = signal(/** @type {Storage} */ ('ok'));

/** @typedef {import('./schema.js').Store} Store */

const NAME = 'wrackbook';

/** Opening has been seen to hang for ever (Safari 14); then go on without. */
const OPEN_MS = 4000;

/** @type {Promise<import('idb').IDBPDatabase> | undefined} */
let connection;

function connect() {
  connection ??= open().catch((error) => {
    if (storage.peek() === 'ok') storage.value = 'none';
    throw error;
  });
  return connection;
}

async function open() {
  const opened = openDB(NAME, VERSION, {
    upgrade: (db, from, _to, tx) => upgrade(db, from, tx),
    blocked() {
      storage.value = 'blocked';
    },
    blocking(_current, _next, event) {
      // Another tab wants to upgrade: let it, or it waits for ever.
      /** @type {IDBDatabase} */ (event.target).close();
      storage.value = 'stepped-aside';
    },
    terminated() {
      connection = undefined; // suspended phones lose the connection; the next use reopens
    },
  });
  opened.then(() => {
    if (storage.peek() === 'blocked') storage.value = 'ok';
  }, () => {});
  /** @type {Promise<never>} */
  const late = new Promise((_, reject) => setTimeout(reject, OPEN_MS, new Error('the database did not open')));
  return Promise.race([opened, late]);
}

/**
 * Runs one use of the database, once more on a new connection if the old one was lost.
 * @template T
 * @param {(db: import('idb').IDBPDatabase) => Promise<T>} use
 * @returns {Promise<T | undefined>} undefined where there is no storage
 */
async function withDatabase(use) {
  for (let attempt = 0; attempt < 2; attempt++) {
    if (storage.peek() === 'stepped-aside' || storage.peek() === 'none') return undefined;
    try {
      return await use(await connect());
    } catch (error) {
      connection = undefined;
      if (attempt === 1) console.warn('storage:', error);
    }
  }
  return undefined;
}

/** @param {Store} store @param {IDBValidKey} key */
export function get(store, key) {
  return withDatabase((db) => db.get(store, key));
}

/** @param {Store} store @param {IDBValidKey} key @param {unknown} value */
export async function put(store, key, value) {
  await withDatabase((db) => db.put(store, value, key));
}

/** @param {Store} store @param {IDBValidKey} key */
export async function drop(store, key) {
  await withDatabase((db) => db.delete(store, key));
}

/**
 * Writes to several stores, all or nothing.
 * @param {Store[]} stores
 * @param {(tx: import('idb').Transaction) => Promise<void>} use awaits nothing but the database, and may run twice
 * @param {'default' | 'strict'} [durability] strict: on the disk, also if the battery dies now
 * @returns {Promise<boolean>} whether it is on the phone now
 */
export async function write(stores, use, durability = 'default') {
  const done = await withDatabase(async (db) => {
    const tx = db.transaction(stores, 'readwrite', { durability });
    tx.done.catch(() => {}); // awaited below, unless use fails first
    await use(tx);
    await tx.done;
    return true;
  });
  return done === true;
}

/**
 * Appends a value and keeps the newest ones.
 * @param {Store} store
 * @param {unknown} value
 * @param {number} most
 */
export async function append(store, value, most) {
  await withDatabase(async (db) => {
    const tx = db.transaction(store, 'readwrite');
    await tx.store.add(value);
    const keys = await tx.store.getAllKeys();
    for (const key of keys.slice(0, Math.max(0, keys.length - most))) await tx.store.delete(key);
    await tx.done;
  });
}

/**
 * Every value of a store, oldest first.
 * @param {Store} store
 * @returns {Promise<any[]>}
 */
export async function all(store) {
  return (await withDatabase((db) => db.getAll(store))) ?? [];
}

/**
 * The values of a store whose keys begin with a kind.
 * @param {Store} store
 * @param {string} kind
 * @returns {Promise<any[]>}
 */
export async function range(store, kind) {
  return (await withDatabase((db) => db.getAll(store, IDBKeyRange.bound([kind], [kind, []])))) ?? [];
}

/**
 * The values that an index finds, in its order.
 * @param {Store} store
 * @param {string} index
 * @param {IDBValidKey} [key] every one unless given
 * @param {number} [most]
 * @returns {Promise<any[]>} rejects where the phone cannot read what it keeps
 */
export async function found(store, index, key, most) {
  return sure(await withDatabase((db) => db.getAllFromIndex(store, index, key, most)));
}

/**
 * How many values an index finds.
 * @param {Store} store
 * @param {string} index
 * @returns {Promise<number>} rejects as found does
 */
export async function count(store, index) {
  return sure(await withDatabase((db) => db.countFromIndex(store, index)));
}

/**
 * The keys of a store.
 * @param {Store} store
 * @returns {Promise<IDBValidKey[]>} rejects as found does
 */
export async function keys(store) {
  return sure(await withDatabase((db) => db.getAllKeys(store)));
}

/**
 * What was read: a failure must not pass for "nothing there".
 * @template T
 * @param {T | undefined} read
 */
function sure(read) {
  if (read === undefined) throw new Error('this phone could not read what it keeps');
  return read;
}
