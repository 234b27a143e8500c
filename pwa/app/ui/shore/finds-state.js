// The household's finds, and what is written of them. Everything goes to the phone first.

import { computed, signal } from '@preact/signals';
import { records, write } from '../../data/book.js';
import { me } from '../../data/door.js';
import { keepWho, keptWho } from '../../data/finding.js';
import { uuidv7 } from '../../data/ids.js';
import { shore, shores } from '../plan/shore-state.js';
import { addDays, dayStart, localDay } from '../parts/when.js';
import { findOf } from './find.js';
import { instant, members, outings, owner, underWay } from './outing-state.js';

/** @typedef {import('./find.js').Find} Find */
/** @typedef {{id: string, name: string, as: 'adult' | 'child'}} Who */

/** Whether this is a child's phone: it logs, and leaves taking what is alive to adults. */
export const childsPhone = computed(() => me.value?.device.role === 'child');
/** A guest's phone reads only. */
export const readsOnly = computed(() => me.value?.device.role === 'guest');

/** The shore that finds are logged on: that of the outing under way, or the chosen one. */
export const here = computed(() => shores.value.find(({ id }) => id === underWay.value?.shore) ?? shore.value);

/**
 * The zone of a find's shore, or of this phone.
 * @param {string | null} [id] of the shore
 */
export function zoneOf(id) {
  const at = id === undefined ? here.value : shores.value.find((one) => one.id === id) ?? here.value;
  return at?.zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone ?? 'UTC';
}

/** Every find on this phone by its id, deleted ones too. */
const all = computed(() => records('find').value);

/** @param {string} id @returns {Find | undefined} */
export function findNamed(id) {
  const found = all.value.find((rec) => rec.id === id);
  return found && findOf(found);
}

/** Who may have found something: the party of the outing under way, or the household. A watcher neither logs nor collects. */
export const people = computed(() => {
  const party = underWay.value?.party ?? [];
  /** @type {Who[]} */
  const going = party.filter(({ does }) => does !== 'watches').map(({ id, name, as, number }) => ({ id, as, name: name || nameOf(id) || String(number ?? '') }));
  return going.length > 0 ? going : /** @type {Who[]} */ (members.value);
});

/** @param {string | null} id of a member or of one of a party @returns {string} '' if nobody knows */
export function nameOf(id) {
  if (!id) return '';
  const member = members.value.find((one) => one.id === id)?.name;
  if (member) return member;
  for (const { party } of outings.value) {
    const guest = party.find((one) => one.id === id);
    if (guest?.name) return guest.name;
  }
  return '';
}

/** Who was chosen last. */
export const lastWho = signal(/** @type {string | null} */ (null));

/** Reads who was chosen last, unless somebody is chosen already. */
export async function recallWho() {
  lastWho.value ??= (await keptWho()) ?? null;
}

/** @param {string | null} id */
export function chooseWho(id) {
  lastWho.value = id;
  keepWho(id);
}

/** Who it is unless the person says otherwise. */
export const whoNow = computed(() => {
  const may = (/** @type {string | null} */ id) => people.value.some((one) => one.id === id);
  return may(lastWho.value) ? lastWho.value : may(owner.value) ? owner.value : people.value.length === 1 ? people.value[0].id : null;
});

/** Where and when something is logged now. */
export const place = () => ({ at: instant(), outing: underWay.peek()?.id ?? null, shore: here.peek()?.id ?? null });

/**
 * @param {string} id
 * @param {Record<string, any>} fields
 * @returns {Promise<boolean>} whether the phone has kept it
 */
export const setFind = (id, fields) => write('find', id, fields);

/** @param {string} id */
export const takeBack = (id) => setFind(id, { deleted: true });
/** @param {string} id */
export const bringBack = (id) => setFind(id, { deleted: false });

/** @param {Find} find @param {{value: number, unit: import('./find.js').Unit}} [amount] a part of it */
export const putBack = (find, amount) => setFind(find.id, { putBack: { at: instant(), by: owner.peek(), ...(amount ? { amount } : {}) } });

/** @param {string} id @param {{taxon: string, group: string, how: string}} as */
export const identify = (id, { taxon, group, how }) => setFind(id, {
  [`identified/${uuidv7()}`]: { at: instant(), by: owner.peek(), taxon, group, ...(how ? { how } : {}) },
});

/**
 * The instants at which a local day begins and ends, as records write them.
 * @param {string} day YYYY-MM-DD
 * @param {string} zone
 */
const boundsOf = (day, zone) => [instant(dayStart(day, zone)), instant(dayStart(addDays(day, 1), zone))];

/**
 * The finds of one local day, newest first, deleted ones too.
 * @param {string} day YYYY-MM-DD
 * @param {string} zone
 */
export function findsOn(day, zone) {
  const [from, to] = boundsOf(day, zone);
  return all.value.filter(({ fields }) => fields.at >= from && fields.at < to).map(findOf).sort(newestFirst);
}

/**
 * The nearest days with finds around one.
 * @param {string} day YYYY-MM-DD
 * @param {string} zone
 * @returns {{before?: string, after?: string}}
 */
export function daysAround(day, zone) {
  const [from, to] = boundsOf(day, zone);
  let [before, after] = ['', ''];
  for (const { fields: { at }, deleted } of all.value) {
    if (deleted || !at) continue;
    if (at < from && at > before) before = at;
    else if (at >= to && (!after || at < after)) after = at;
  }
  const dayOf = (/** @type {string} */ at) => (at ? localDay(Date.parse(at), zone) : undefined);
  return { before: dayOf(before), after: dayOf(after) };
}

/** @param {Find} a @param {Find} b */
export const newestFirst = (a, b) => b.atMs - a.atMs || (a.id < b.id ? 1 : -1);

/** The finds whose details are still to come, newest first. */
export const unfinished = computed(() => all.value.filter(({ fields, deleted }) => fields.unfinished === true && !deleted).map(findOf).sort(newestFirst));

/** How many finds each outing has. */
export const countsByOuting = computed(() => {
  /** @type {Map<string, number>} */
  const counts = new Map();
  for (const { fields, deleted } of all.value) {
    if (!deleted && fields.outing) counts.set(fields.outing, (counts.get(fields.outing) ?? 0) + 1);
  }
  return counts;
});

/** @param {string} outing id @returns {Find[]} earliest first */
export const findsOf = (outing) => all.value.filter(({ fields, deleted }) => !deleted && fields.outing === outing).map(findOf).sort((a, b) => newestFirst(b, a));

