// What the core holds of the tanks: given to it whole once, then what is new or changed, so that
// a year of twenty jars is not sent each minute. The worker may be started anew, which it
// forgets by; then it is given everything again.

import { call, give, state as core } from '../../core.js';
import { records } from '../../data/book.js';
import { HOUSEHOLD } from '../../data/household.js';

/** @typedef {import('../../data/book.js').Rec} Rec */
/** @typedef {Record<string, any> & {id: string}} Fields of a record, with its id */

/** What the core is told of, each kind by the name of its list. */
export const LISTS = /** @type {const} */ ({ members: 'member', specimens: 'specimen', tanks: 'tank', systems: 'system', readings: 'reading', events: 'event', finds: 'find' });

/** Of each strip: more than any page shows. */
const DAYS = 120;

/**
 * What the core holds, by kind and id; undefined where it holds nothing.
 * @type {Map<string, Rec> | undefined}
 */
let held;
core.subscribe((now) => {
  if (now !== 'ready') held = undefined;
});

/** @param {Rec} rec @returns {Fields} */
const fieldsOf = ({ id, fields }) => ({ ...fields, id, deleted: false });

/**
 * Everything that the clock is reckoned from: of the finds, those that specimens come from; of
 * the members also who has left the household, for their looks were an adult's or a child's.
 */
function onFile() {
  const from = new Set(records('specimen').peek().filter(({ deleted }) => !deleted).map(({ fields }) => fields.find));
  return Object.entries(LISTS).flatMap(([list, kind]) => records(kind).peek().filter(({ id, deleted }) => (!deleted || kind === 'member') && (kind !== 'find' || from.has(id))).map((rec) => ({ list, key: `${kind}/${rec.id}`, rec })));
}

/** @param {string} zone */
function home(zone) {
  const household = records('household').peek().find(({ id, deleted }) => id === HOUSEHOLD && !deleted);
  return { zone, ...(household ? { household: fieldsOf(household) } : {}) };
}

/**
 * What the core is asked with all that is on file.
 * @param {string} zone
 */
export function whole(zone) {
  /** @type {Record<string, Fields[]>} */
  const lists = Object.fromEntries(Object.keys(LISTS).map((list) => [list, []]));
  for (const { list, rec } of onFile()) lists[list].push(fieldsOf(rec));
  return { ...lists, ...home(zone) };
}

/** @param {string} zone */
async function bring(zone) {
  const now = onFile();
  const next = new Map(now.map(({ key, rec }) => [key, rec]));
  const was = held;
  if (!was) await give('openTanks', whole(zone));
  else {
    /** @type {Record<string, Fields[]>} */
    const changed = {};
    for (const { list, key, rec } of now) if (was.get(key) !== rec) (changed[list] ??= []).push(fieldsOf(rec));
    const removed = [...was].filter(([key]) => !next.has(key)).map(([, { id }]) => id);
    await give('addToTanks', { ...changed, removed, ...home(zone) });
  }
  if (core.peek() === 'ready') held = next;
}

/**
 * One after another: what is given must be given in order.
 * @type {Promise<unknown>}
 */
let last = Promise.resolve();

/**
 * Asks the clock, from all that is on file now.
 * @param {string} zone
 * @param {object} [more] fits, recall
 * @returns {Promise<any>} rejects with a CoreError
 */
export function askClock(zone, more) {
  const next = last.catch(() => {}).then(async () => {
    try {
      await bring(zone);
      return await call('clock', { held: true, days: DAYS, ...more });
    } catch (error) {
      // The worker was started anew, or what was given is doubtful: once more, from the beginning.
      held = undefined;
      if (core.peek() !== 'ready' && core.peek() !== 'starting') throw error;
      await bring(zone);
      return call('clock', { held: true, days: DAYS, ...more });
    }
  });
  last = next;
  return next;
}
