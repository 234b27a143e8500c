// Exchanges what was written with the household's server: this phone's changes go first,
// then its photos, then what others wrote comes. The rules of the exchange stand in
// server/sync.go. It may break off at any point and be asked for again; nothing counts as
// sent before its answer is read and kept.

import { signal } from '@preact/signals';
import { ApiError, NoSignal, api } from './api.js';
import { onWrite } from './book.js';
import { count, found, get, put, write } from './db.js';
import { me, refreshMe } from './door.js';
import { begin, sweep } from './epoch.js';
import { record as recordError } from './errors.js';
import { fold } from './folding.js';
import { JOURNAL, bare, foldAnew, openClock, takeIn } from './journal.js';
import { sendPhotos } from './photos.js';
import { introduce, recallDevice } from './this-device.js';

const PROTOCOL = 1;

/** How much goes into one exchange: what a bad signal carries in seconds. */
const PUSH_MOST = 200;
const PUSH_CHARS = 300_000;
const PULL_MOST = 500;
/** What of that goes at once now: less after each time that a bad signal broke it off. */
let share = 1;
const some = (/** @type {number} */ most) => Math.max(1, Math.round(most * share));
const EXCHANGE_MS = 30_000;

/** While the app is looked at, in milliseconds; after failures less often. */
const EVERY_MS = 60_000;
const RETRY_MS = 5_000;
const RETRY_MOST_MS = 300_000;
/** Several fields written in a row go together. */
const SOON_MS = 400;

/** A round trip longer than this says too little of the clock. */
const CLOCK_TRIP_MS = 10_000;
/** From here on the phone's clock is worth a warning. */
export const CLOCK_OFF_MS = 120_000;

/**
 * alone: has not joined a household. resting: all is exchanged. busy: exchanging.
 * no-signal: nothing answers. later: the server has asked to wait, or is not well; why
 * has its words. shut-out: the server knows this device no more. update: phone and server
 * are of different versions. full: this phone keeps no more. strange: the phone holds
 * another household's book; nothing is exchanged until that is forgotten.
 * @typedef {'alone' | 'resting' | 'busy' | 'no-signal' | 'later' | 'shut-out' | 'update' | 'full' | 'strange'} State
 */

export const syncState = signal(/** @type {{state: State, lastMs?: number, why?: string}} */ ({ state: 'alone' }));
/** Changes and photos that the server has not acknowledged. */
export const unsent = signal(0);
/** By how much this phone's clock is ahead of the server's, when they last met; see CLOCK_OFF_MS. */
export const clockOffMs = signal(/** @type {number | null} */ (null));

/** @typedef {{epoch: string, after: number, cursor?: string, sweep?: boolean}} Place in the server's journal; cursor while the snapshot comes */

/** @type {Promise<void> | undefined} */
let running;
let again = false;
let failures = 0;
/** @type {number | undefined} */
let timer;

/** Begins to exchange, and goes on while the app is open. */
export async function startSync() {
  const [lastMs, off] = await Promise.all([get('choices', 'syncedMs'), get('choices', 'clockOffMs'), recallDevice()]);
  syncState.value = { ...syncState.peek(), lastMs };
  clockOffMs.value = off ?? null;
  onWrite((here) => {
    recount();
    if (here) {
      fold();
      wait(SOON_MS);
    }
  });
  for (const [target, name] of /** @type {[EventTarget, string][]} */ ([[window, 'online'], [window, 'pageshow'], [document, 'visibilitychange']])) {
    target.addEventListener(name, () => {
      if (document.visibilityState === 'visible') syncNow();
    });
  }
  me.subscribe(() => syncNow());
  fold();
}

/** @param {number} ms */
function wait(ms) {
  clearTimeout(timer);
  timer = setTimeout(() => (document.visibilityState === 'visible' ? syncNow() : undefined), ms);
}

/** Where the phone cannot count, the old number stands. */
async function recount() {
  const [changes, photos] = await Promise.all([count('changes', 'outbox'), count('photos', 'outbox')]).catch(() => []);
  if (changes !== undefined) unsent.value = changes + photos;
}

/** Exchanges now; resolves when that is done, one way or another. */
export function syncNow() {
  again = true;
  running ??= run().finally(() => {
    running = undefined;
    if (again) syncNow(); // asked for in the last moment
  });
  return running;
}

async function run() {
  clearTimeout(timer);
  while (again) {
    again = false;
    await recount();
    const who = me.peek();
    if (!who || who.strange) {
      say(who ? 'strange' : 'alone');
      return;
    }
    say('busy');
    try {
      await oneTab(exchange);
      failures = 0;
      const lastMs = Date.now();
      await put('choices', 'syncedMs', lastMs);
      syncState.value = { state: 'resting', lastMs };
      wait(EVERY_MS);
    } catch (error) {
      await failed(error);
    }
    await recount();
  }
}

/**
 * Two tabs would send the same twice, which does no harm and costs twice.
 * @template T
 * @param {() => Promise<T>} use
 * @returns {Promise<T>}
 */
const oneTab = (use) => (navigator.locks ? navigator.locks.request('wrackbook-sync', use) : use());

/** @param {State} state @param {string} [why] */
function say(state, why) {
  syncState.value = { lastMs: syncState.peek().lastMs, state, why };
}

/** @param {unknown} error */
async function failed(error) {
  failures++;
  const backoff = Math.min(RETRY_MOST_MS, RETRY_MS * 2 ** (failures - 1)) * (0.8 + 0.4 * Math.random());
  let next = backoff;
  if (error instanceof NoSignal) {
    share = Math.max(1 / PUSH_MOST, share / 2);
    say('no-signal');
  } else if (error instanceof NoRoom) {
    say('full');
  } else if (error instanceof ApiError && error.code === 'other_epoch') {
    // Is it still the same household's book that was restored?
    greeted = false;
    const asked = await refreshMe().then(() => true, () => false);
    if (!asked) say('no-signal');
    else if (me.peek()?.strange || (await oneTab(() => begin(error.epoch ?? '', true)))) again = true;
    else say('full');
  } else if (error instanceof ApiError && error.code === 'no_device') {
    say('shut-out', error.message);
    next = RETRY_MOST_MS;
  } else if (error instanceof ApiError && error.code === 'please_update') {
    say('update', error.message);
    next = RETRY_MOST_MS;
  } else {
    say('later', error instanceof ApiError ? error.message : undefined);
    recordError(`sync: ${error}`);
    if (error instanceof ApiError && error.retryAfterS) next = Math.max(backoff, error.retryAfterS * 1000);
  }
  wait(next);
}

/** This phone did not keep what came. */
class NoRoom extends Error {}

let greeted = false;

async function exchange() {
  if (!greeted) {
    await refreshMe();
    greeted = true;
    const who = me.peek();
    if (who?.strange) {
      again = true;
      return;
    }
    if (who && who.device.role !== 'guest') await introduce(who.device.name);
    if (who && !(await seesAs(who.device.role))) throw new NoRoom();
  }
  // A guest's phone reads; what was written on it before it joined stays on it.
  const writes = me.peek()?.device.role !== 'guest';
  if (writes) await push();
  await pull();
  // Photos come last: one that does not go holds up nothing that others wrote.
  if (writes) await sendPhotos(async () => recount().then(() => !again));
}

/**
 * What a role may not see was never sent to this phone: with another role all is fetched anew.
 * @param {string} role
 * @returns {Promise<boolean>} whether this phone has kept it
 */
async function seesAs(role) {
  const was = await get('choices', 'syncRole');
  const at = await place();
  if (was && was !== role && at.epoch && !(await begin(at.epoch, false))) return false;
  if (was !== role) await put('choices', 'syncRole', role);
  return true;
}

/** @param {string} path @param {object} request */
async function ask(path, request) {
  const { epoch } = await place();
  const asked = Date.now();
  const answer = await api('POST', path, { protocol: PROTOCOL, epoch, now: asked, ...request }, { timeoutMs: EXCHANGE_MS }).catch((error) => {
    if (error instanceof ApiError) compareClocks(asked, error.now);
    throw error;
  });
  compareClocks(asked, answer.now);
  share = Math.min(1, share * 2);
  return answer;
}

/** @param {number} asked @param {number | undefined} theirs */
function compareClocks(asked, theirs) {
  const heard = Date.now();
  if (theirs === undefined || heard < asked || heard - asked > CLOCK_TRIP_MS) return;
  clockOffMs.value = Math.round((asked + heard) / 2 - theirs);
  put('choices', 'clockOffMs', clockOffMs.value);
}

/** @returns {Promise<Place>} */
const place = async () => (await get('choices', 'sync')) ?? { epoch: '', after: 0 };

async function push() {
  let most = PUSH_MOST;
  for (;;) {
    const batch = fitting(await found('changes', 'outbox', undefined, Math.min(most, some(PUSH_MOST))));
    if (batch.length === 0) return;
    let results;
    try {
      results = (await ask('/api/sync/push', { changes: batch.map(bare) })).results;
    } catch (error) {
      if (!(error instanceof ApiError) || error.code !== 'too_large') throw error;
      if (batch.length > 1) {
        most = Math.ceil(batch.length / 2);
        continue;
      }
      results = [{ id: batch[0].id, error: { message: error.message } }];
    }
    await acknowledge(batch, results);
    await recount();
  }
}

/** @param {import('./journal.js').Change[]} changes */
function fitting(changes) {
  let chars = 0;
  const end = changes.findIndex((change, i) => (chars += JSON.stringify(change).length) > PUSH_CHARS && i > 0);
  return end < 0 ? changes : changes.slice(0, end);
}

/**
 * Keeps the server's word on each change.
 * @param {import('./journal.js').Change[]} batch
 * @param {{id: string, seq?: number, atMs?: number, refused?: string, altered?: boolean, error?: {message: string}}[]} results
 */
async function acknowledge(batch, results) {
  const byId = new Map(results.map((result) => [result.id, result]));
  if (!batch.some(({ id }) => byId.has(id))) throw new Error('the server answered for none of the changes');
  await keep(async (tx) => {
    for (const change of batch) {
      const result = byId.get(change.id);
      if (!result) continue;
      if (result.seq && result.atMs && !result.altered) {
        const receipt = { seq: result.seq, atMs: result.atMs, ...(result.refused ? { refused: result.refused } : {}) };
        await takeIn(tx, [{ ...bare(change), receipt }]);
      } else {
        await tx.objectStore('changes').put({ ...bare(change), unfit: result.error?.message ?? 'Another change of this name is in the book.' });
        await foldAnew(tx, change.kind, change.record);
      }
    }
  });
  fold();
}

async function pull() {
  let at = await place();
  while (!at.epoch || at.cursor !== undefined) {
    const page = await ask('/api/sync/snapshot', { cursor: at.cursor ?? '', limit: some(PULL_MOST) });
    /** @type {Place} */
    const next = { ...at, epoch: page.epoch, after: page.through, cursor: page.next };
    if (page.next === '') delete next.cursor;
    await receive(page.changes, next);
    at = next;
  }
  for (let more = true; more; ) {
    const page = await ask('/api/sync/pull', { after: at.after, limit: some(PULL_MOST) });
    more = page.more;
    at = { ...at, epoch: page.epoch, after: page.next };
    await receive(page.changes, at);
    fold();
  }
  if (!at.sweep) return;
  // After a restore: what the server no longer has, and nobody here wrote, goes.
  await fold();
  const { sweep: _, ...swept } = at;
  if (!(await sweep(swept))) throw new NoRoom();
}

/**
 * @param {import('./journal.js').Change[]} changes
 * @param {Place} next
 */
function receive(changes, next) {
  return keep(async (tx) => {
    const { clock, keep: keepClock } = await openClock(tx);
    for (const { stamp, receipt } of changes) if (receipt) clock.hear(stamp, receipt.atMs);
    await keepClock();
    await takeIn(tx, changes);
    await tx.objectStore('choices').put(next, 'sync');
  });
}

/** @param {(tx: import('./journal.js').Transaction) => Promise<void>} use */
async function keep(use) {
  if (!(await write([...JOURNAL, 'choices'], use))) throw new NoRoom();
}
