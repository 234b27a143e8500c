// Has the core fold what is new in the journal into the records, behind everything else.
// Where the core has failed on this phone, what was written here still shows (book.js);
// what came from elsewhere waits.

import { call, notRunning } from '../core.js';
import { show } from './book.js';
import { found, write } from './db.js';
import { record as recordError } from './errors.js';

/** @typedef {import('./journal.js').Folded} Folded */

/** A request to the core may have a megabyte. */
const MOST_CHARS = 500_000;
const MOST_RECORDS = 400;

let running = false;
let again = false;

/** Folds until nothing is due. */
export async function fold() {
  again = true;
  if (running) return;
  running = true;
  try {
    while (again) {
      again = false;
      const list = await found('folds', 'due', 1, MOST_RECORDS);
      if (list.length === 0) continue;
      for (const batch of batches(list)) await foldBatch(batch);
      again = true;
    }
  } catch (error) {
    recordError(`folding: ${error}`);
  } finally {
    running = false;
  }
}

/** @param {Folded[]} list */
function* batches(list) {
  /** @type {Folded[]} */
  let batch = [];
  let chars = 0;
  for (const one of list) {
    const more = JSON.stringify(one).length;
    if (batch.length > 0 && chars + more > MOST_CHARS) {
      yield batch;
      batch = [];
      chars = 0;
    }
    batch.push(one);
    chars += more;
  }
  yield batch;
}

/** @param {Folded[]} batch */
async function foldBatch(batch) {
  let answer;
  try {
    answer = await call('fold', {
      kept: batch.filter(({ data }) => data !== '').map(({ kind, id, data }) => ({ kind, id, data })),
      changes: batch.flatMap(({ fresh }) => fresh),
    });
  } catch (error) {
    if (notRunning(error)) throw error;
    if (batch.length > 1) {
      // One that cannot be folded must not hold up the others.
      for (const one of batch) await foldBatch([one]);
      return;
    }
    recordError(`a ${batch[0].kind} cannot be folded: ${error}`);
    answer = { records: [] };
  }
  const folded = new Map(answer.records.map((/** @type {any} */ one) => [`${one.kind}/${one.id}`, one]));
  /** @type {import('./book.js').Rec[]} */
  let shown = [];
  /** @type {{kind: string, id: string}[]} */
  let gone = [];
  const kept = await write(['folds', 'records'], async (tx) => {
    shown = [];
    gone = [];
    for (const read of batch) {
      const now = /** @type {Folded | undefined} */ (await tx.objectStore('folds').get([read.kind, read.id]));
      if (!now || now.version !== read.version) continue; // another tab was quicker
      // A record of which nothing is left is in no answer.
      const nothing = read.fresh.length === 0 && read.data === '' ? { kind: read.kind, id: read.id, exists: false, kept: '' } : undefined;
      const one = folded.get(`${read.kind}/${read.id}`) ?? nothing;
      const { due, ...rest } = now;
      const later = now.fresh.length > read.fresh.length; // what came meanwhile stands behind
      const more = later ? { due } : {};
      if (!one) {
        await tx.objectStore('folds').put({ ...rest, ...more }); // tried again with the next change
        continue;
      }
      await tx.objectStore('folds').put({ ...rest, ...more, fresh: now.fresh.slice(read.fresh.length), data: one.kept, version: now.version + 1 });
      if (later) continue;
      if (one.exists) {
        const rec = { kind: one.kind, id: one.id, fields: one.fields, flags: one.flags, deleted: one.deleted };
        await tx.objectStore('records').put(rec);
        shown.push(rec);
      } else {
        await tx.objectStore('records').delete([one.kind, one.id]);
        gone.push({ kind: one.kind, id: one.id });
      }
    }
  });
  if (!kept) throw new Error('this phone does not keep the fold');
  show(shown, gone);
}
