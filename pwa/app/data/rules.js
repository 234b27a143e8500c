// What the core weighs a find against: the rule sets on file, what was taken, where the shores
// are. The core is given it when it is ready and again after each restart, a part at a time
// and behind everything else; what changes on this phone follows at once.

import { computed, effect, signal } from '@preact/signals';
import { call, give, state } from '../core.js';
import { ready, records } from './book.js';
import { endings, goneOf } from './ended.js';
import { record as recordError } from './errors.js';
import { shoresOf } from './rules-ask.js';

/** @typedef {import('./book.js').Rec} Rec */

/** Finds that are given at once: some milliseconds of a slow phone, between which it answers other calls. */
const PART = 250;
/** Rule sets at once: one has up to 60 kB. */
const SETS = 20;
const TRIES = 3;
const KINDS = ['ruleset', 'shore', 'find'];

/** What of a find no rule reads and may be long. */
const UNREAD = /^(photos\/|note$|habitat$|scale$|candidates$)/;

let changes = 0;
/** Grows with whatever is counted: an answer from before is the answer to another question. */
export const counted = computed(() => {
  for (const kind of KINDS) records(kind).value;
  if (anyRules.value) ended.value;
  return ++changes;
});

/** Which finds the household has no more of, and since when. */
const ended = computed(() => endings(records('specimen').value, records('event').value));

/** Whether any rule is on file; without, nothing is counted. */
export const anyRules = computed(() => records('ruleset').value.some(({ deleted }) => !deleted));

/** Whether it is known what rules are on file. */
export const rulesRead = signal(false);

/** What the core has or is about to be given, by id. @type {Map<string, Rec>} */
const given = new Map();
/** What is still to be given. @type {Map<string, Rec>} */
const due = new Map();
/** Finds with their end, by what they are on file. @type {WeakMap<Rec, Rec>} */
const ends = new WeakMap();
let opened = false;
let changed = true;
/** @type {Promise<void> | undefined} */
let bringing;

/** The core has nothing. */
function anew() {
  given.clear();
  due.clear();
  opened = false;
  changed = true;
}

/** Begins to give, and goes on while the app is open. */
export function startRules() {
  ready('ruleset').then(() => (rulesRead.value = true));
  effect(() => {
    for (const kind of kinds()) records(kind).value;
    if (anyRules.value) ended.value;
    changed = true;
    if (state.value !== 'ready') return anew();
    // After what has changed is on the screen.
    setTimeout(() => settled().catch((error) => state.peek() === 'ready' && recordError(`the rules: ${error}`)));
    return undefined;
  });
}

/** Finds are many; where no rule is on file they are not even read. */
const kinds = () => (anyRules.value ? KINDS : KINDS.slice(0, 2));

/** Resolves when the core has all that is on this phone now. */
const settled = () => (bringing ??= bring());

/** Gives what is due, a part at a time. */
async function bring() {
  try {
    await ready('ruleset');
    for (;;) {
      await Promise.all(kinds().map(ready));
      if (changed) look();
      if (opened && due.size === 0) return;
      await give(opened ? 'addToLedger' : 'openLedger', part());
      opened = true;
    }
  } catch (error) {
    anew(); // what was not taken in is not counted: no verdict, until all of it is given
    throw error;
  } finally {
    bringing = undefined;
  }
}

/** Notes what has changed. A changed record is another object. */
function look() {
  changed = false;
  for (const kind of kinds()) {
    const here = new Set();
    for (const rec of records(kind).peek()) {
      here.add(rec.id);
      note(kind === 'find' ? withEnd(rec) : rec);
    }
    // What has gone without a trace.
    for (const rec of given.values()) if (rec.kind === kind && !rec.deleted && !here.has(rec.id)) note({ ...rec, deleted: true });
  }
}

/**
 * A find with what became of it in the tanks; the same object while nothing changes.
 * @param {Rec} rec
 */
function withEnd(rec) {
  const end = ended.peek().get(rec.id);
  const gone = end && !rec.fields.gone && goneOf(rec.fields, end);
  if (!gone) return rec;
  const was = ends.get(rec);
  if (was && JSON.stringify(was.fields.gone) === JSON.stringify(gone)) return was;
  const made = { ...rec, fields: { ...rec.fields, gone } };
  ends.set(rec, made);
  return made;
}

/** @param {Rec} rec */
function note(rec) {
  const was = given.get(rec.id);
  if (was === rec) return;
  given.set(rec.id, rec);
  if (counts(rec) || (was && counts(was))) due.set(rec.id, rec);
}

/**
 * What was only seen is not counted. What was taken on a shore that is deleted by now, is.
 * @param {Rec} rec
 */
const counts = ({ kind, fields, deleted }) => kind === 'shore' || (!deleted && fields.fate !== 'seen');

/** The next of what is due, as the core takes it in. */
function part() {
  /** @type {Record<'sets' | 'finds' | 'shores' | 'removed', any[]>} */
  const of = { sets: [], finds: [], shores: [], removed: [] };
  for (const [id, rec] of due) {
    if (of.finds.length + of.removed.length >= PART || of.sets.length >= SETS) break;
    due.delete(id);
    const { kind, fields } = rec;
    if (!counts(rec)) of.removed.push(id);
    else if (kind === 'ruleset') of.sets.push({ id, document: fields.document, checked: fields.checked ?? null, shores: shoresOf(fields), elsewhere: shoresOf(fields, false) });
    else if (kind === 'find') of.finds.push({ id, ...Object.fromEntries(Object.entries(fields).filter(([name]) => !UNREAD.test(name))) });
    else if (fields.place) of.shores.push({ id, lat: fields.place.lat, lon: fields.place.lon });
  }
  return of;
}

/**
 * Asks the core something that it counts what is on this phone for.
 * @param {'verdict' | 'onFile' | 'closed'} name
 * @param {object} request
 * @returns {Promise<any>} rejects with a CoreError
 */
export async function weigh(name, request) {
  for (let tries = 1; ; tries++) {
    try {
      await settled();
      return await call(name, { held: true, ...request });
    } catch (error) {
      // The core has started anew in between, and had been given nothing yet.
      const { code, field } = /** @type {any} */ (error);
      if (tries === TRIES || (code !== 'core_failed' && field !== 'held') || state.peek() === 'failed' || state.peek() === 'mismatch') throw error;
      if (field === 'held') anew();
    }
  }
}
