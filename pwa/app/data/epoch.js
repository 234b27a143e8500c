// The server's book was restored: places in its journal mean nothing now. This phone keeps
// what it wrote itself, sends all of it again, and fetches everything anew.

import { write } from './db.js';
import { show } from './book.js';
import { notStrange } from './door.js';
import { JOURNAL, bare, openClock, takeIn } from './journal.js';

/**
 * Fetches everything anew. Nothing is done where another tab has begun already.
 * @param {string} epoch the server's present one
 * @param {boolean} send whether this phone's changes are sent again: they are not where only
 *   what it may see has changed
 * @returns {Promise<boolean>} whether this phone has kept it
 */
export function begin(epoch, send) {
  return write([...JOURNAL, 'photos', 'choices'], async (tx) => {
    if (send && (await tx.objectStore('choices').get('sync'))?.epoch === epoch) return;
    const { device, keep } = await openClock(tx);
    await keep();
    for (const { unfit: _, ...photo } of await tx.objectStore('photos').getAll()) await tx.objectStore('photos').put({ ...photo, outbox: 1 });
    const changes = tx.objectStore('changes');
    const own = (await changes.getAll()).filter(({ stamp }) => stamp.endsWith(device));
    await changes.clear();
    await tx.objectStore('folds').clear();
    await takeIn(tx, own.map((change) => {
      if (!send) return change;
      const { receipt: _, ...unsent } = bare(change);
      return { ...unsent, outbox: change.stamp };
    }));
    await tx.objectStore('choices').put({ epoch, after: 0, cursor: '', sweep: true }, 'sync');
  });
}

/**
 * Takes the records off the phone that nothing is left of, when all has come.
 * @param {object} place to go on from
 * @returns {Promise<boolean>} whether this phone has kept it
 */
export async function sweep(place) {
  /** @type {{kind: string, id: string}[]} */
  let gone = [];
  const kept = await write(['folds', 'records', 'choices'], async (tx) => {
    gone = [];
    const alive = new Set((await tx.objectStore('folds').getAllKeys()).map(String));
    for (const [kind, id] of /** @type {string[][]} */ (await tx.objectStore('records').getAllKeys())) {
      if (alive.has(String([kind, id]))) continue;
      await tx.objectStore('records').delete([kind, id]);
      gone.push({ kind, id });
    }
    await tx.objectStore('choices').put(place, 'sync');
  });
  if (kept) show([], gone);
  return kept;
}

/**
 * Takes a household's whole book off this phone, unsent too: for one that joins another.
 * What the phone chose, its clock and its errors stay.
 * @returns {Promise<boolean>} whether that was done
 */
export async function forget() {
  /** @type {{kind: string, id: string}[]} */
  let gone = [];
  const done = await write([...JOURNAL, 'records', 'photos', 'thumbs', 'drafts', 'choices'], async (tx) => {
    gone = /** @type {string[][]} */ (await tx.objectStore('records').getAllKeys()).map(([kind, id]) => ({ kind, id }));
    for (const store of /** @type {const} */ ([...JOURNAL, 'records', 'photos', 'thumbs', 'drafts'])) await tx.objectStore(store).clear();
    for (const name of ['sync', 'syncedMs']) await tx.objectStore('choices').delete(name);
  });
  if (!done) return false;
  show([], gone);
  await notStrange();
  return true;
}
