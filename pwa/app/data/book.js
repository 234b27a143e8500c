// The household's records on this phone. A write goes to the database first and shows at
// once; the core folds it behind (folding.js), the server hears of it when it can (sync.js).

import { signal } from '@preact/signals';
import { get, range, write as transact } from './db.js';
import { JOURNAL, mint, takeIn } from './journal.js';

/**
 * flags say what is doubtful, as the core finds it; [] until it has looked.
 * @typedef {{kind: string, id: string, fields: Record<string, any>, flags: {field: string, code: string, text: string}[], deleted: boolean}} Rec
 */

/** @typedef {{all: Map<string, Rec>, list: import('@preact/signals').Signal<Rec[]>, read: Promise<void>}} Shelf */

/** @type {Map<string, Shelf>} by kind */
const shelves = new Map();

/** Fields that this phone refused to keep: they go along with the next write. @type {Map<string, Record<string, any>>} */
const refused = new Map();

/** @type {((here: boolean) => void)[]} */
const listeners = [];

/** @param {(here: boolean) => void} listener hears of every write, in this tab or another */
export const onWrite = (listener) => listeners.push(listener);

/** Tells the other tabs what has changed. */
const tabs = typeof BroadcastChannel === 'undefined' ? undefined : new BroadcastChannel('wrackbook');
if (tabs) tabs.onmessage = ({ data }) => reread(data);

/** @param {string} kind */
function shelf(kind) {
  let found = shelves.get(kind);
  if (!found) {
    /** @type {Shelf} */
    const made = { all: new Map(), list: signal(/** @type {Rec[]} */ ([])), read: Promise.resolve() };
    made.read = range('records', kind).then((list) => {
      // What was written while the database was slow to open stays.
      for (const rec of list) if (!made.all.has(rec.id)) made.all.set(rec.id, rec);
      made.list.value = [...made.all.values()];
    });
    shelves.set(kind, (found = made));
  }
  return found;
}

/**
 * Every record of a kind, deleted ones too; [] until they are read.
 * @param {string} kind
 */
export const records = (kind) => shelf(kind).list;

/**
 * Resolves when the records of a kind are read.
 * @param {string} kind
 */
export const ready = (kind) => shelf(kind).read;

/**
 * Sets fields of a record: on the phone first, then on the screen.
 * @param {string} kind
 * @param {string} id of the record; a new one makes a record
 * @param {Record<string, any>} fields
 * @returns {Promise<boolean>} whether this phone has kept it; it is on the screen in any case
 */
export async function write(kind, id, fields) {
  if (Object.keys(fields).length === 0) return true;
  const name = `${kind}/${id}`;
  const set = { ...refused.get(name), ...fields };
  const shown = overlay(shelves.get(kind)?.all.get(id), kind, id, set);
  let next = shown;
  const kept = await transact([...JOURNAL, 'records', 'choices'], async (tx) => {
    const store = tx.objectStore('records');
    const stored = await store.get([kind, id]);
    // What this phone refused to keep before is kept now.
    await takeIn(tx, [await mint(tx, kind, id, stored ? set : shown.fields)]);
    next = stored ? overlay(stored, kind, id, set) : shown;
    await store.put(next);
  }, 'strict');
  if (kept) refused.delete(name);
  else refused.set(name, set);
  show([next]);
  if (kept) for (const listener of listeners) listener(true);
  return kept;
}

/**
 * What this phone wrote is later than all that it has heard of, so it stands until the
 * core says otherwise.
 * @param {Rec | undefined} was
 * @param {string} kind
 * @param {string} id
 * @param {Record<string, any>} fields
 * @returns {Rec}
 */
function overlay(was, kind, id, fields) {
  const all = { ...was?.fields, ...fields };
  return { kind, id, fields: all, flags: was?.flags ?? [], deleted: all.deleted === true };
}

/**
 * Puts records on the screens of this tab and the others.
 * @param {Rec[]} list
 * @param {{kind: string, id: string}[]} [gone]
 */
export function show(list, gone = []) {
  put(list, gone);
  tabs?.postMessage([...list, ...gone].map(({ kind, id }) => ({ kind, id })));
}

/** @param {Rec[]} list @param {{kind: string, id: string}[]} gone */
function put(list, gone) {
  const touched = new Set();
  for (const rec of list) touched.add(shelves.get(rec.kind)?.all.set(rec.id, rec) && rec.kind);
  for (const { kind, id } of gone) touched.add(shelves.get(kind)?.all.delete(id) && kind);
  for (const kind of touched) {
    const at = shelves.get(kind);
    if (at) at.list.value = [...at.all.values()];
  }
}

/**
 * Another tab has written.
 * @param {{kind: string, id: string}[]} keys
 */
async function reread(keys) {
  const wanted = keys.filter(({ kind }) => shelves.has(kind));
  const found = await Promise.all(wanted.map(({ kind, id }) => get('records', [kind, id])));
  put(found.filter(Boolean), wanted.filter((_, i) => !found[i]));
  for (const listener of listeners) listener(false);
}
