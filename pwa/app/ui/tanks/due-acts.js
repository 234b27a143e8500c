// What is due, in words, and what one touch does about it.

import { announce } from '../parts/announce.js';
import { dayName } from '../parts/when.js';
import { write } from '../../data/book.js';
import { observer } from './check-who.js';
import { events, nameOf, picture, systemOf, writeEvent } from './picture-state.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @typedef {import('./picture-state.js').Due} Due */

/**
 * The system by its name.
 * @param {string} ref
 */
export const where = (ref) => systemOf(ref)?.name || text.unnamed;

/** @param {Due} due */
const who = ({ specimen, system }) => nameOf(`specimen/${specimen}`) || where(system);

/** @param {string | undefined} id of an event; or "kind:" and a specimen's, of a kind that may not be kept */
export function signWords(id) {
  if (id?.startsWith('kind:')) return nameOf(`specimen/${id.slice('kind:'.length)}`);
  const found = events.value.find((one) => one.id === id);
  return String(found?.sign?.what ?? found?.checked?.signs?.join(', ') ?? '');
}

/** @param {Due} due */
export function dueWords(due) {
  const t = text.due;
  const today = picture.value?.day ?? due.day;
  switch (due.what) {
    case 'check': return t.check(where(due.system));
    case 'confirm': return t.confirm(where(due.system), text.and((due.days ?? []).map((day) => dayName(day, today))), due.days?.length ?? 0);
    case 'sign': return t.sign(where(due.system), signWords(due.events?.[0]));
    case 'ask': return t.ask(where(due.system));
    case 'question': return due.specimen ? t.question(who(due)) : t.questionWater(where(due.system));
    case 'dip': return t.dip(who(due));
    case 'search': return t.search(who(due));
    case 'read': return t.read(where(due.system));
    case 'clear': return t.clear(who(due));
    case 'waterChange': return t.waterChange(where(due.system));
    case 'topUp': return t.topUp(where(due.system));
    case 'trim': return t.trim(who(due));
    default: return t.other(due.what, who(due));
  }
}

/**
 * Where a thing is done that one touch cannot do; '' where it can.
 * @param {Due} due
 */
export function duePath({ what, system, specimen }) {
  switch (what) {
    case 'sign': case 'ask': return `/tanks/system/${system}`;
    case 'question': return specimen ? `/tanks/specimen/${specimen}` : `/tanks/system/${system}`;
    case 'read': return `/tanks/reading/${system}`;
    case 'clear': return `/tanks/specimen/${specimen}/clear`;
    case 'waterChange': return `/tanks/change/${system}`;
    default: return what in acts ? '' : specimen ? `/tanks/specimen/${specimen}` : `/tanks/system/${system}`;
  }
}

/**
 * What was noted last by one touch, to be taken back.
 * @typedef {{says: string, ids: string[], kept: boolean}} Done
 */

/** @param {string} of @param {Record<string, any>} [more] */
export const checkNow = (of, more) => writeEvent('checked', { of, by: observer.peek(), signs: [], ...more });

/** @param {string} of */
export const topUpNow = (of) => writeEvent('toppedUp', { of, by: observer.peek(), litres: null });

/** @type {Record<string, (due: Due) => Promise<{id: string, kept: boolean}>[]>} */
const acts = {
  check: ({ system }) => [checkNow(system)],
  confirm: ({ system, days }) => (days ?? []).map((day) => writeEvent('confirmed', { of: system, by: observer.peek(), day })),
  dip: ({ specimen }) => [writeEvent('dipped', { of: `specimen/${specimen}`, by: observer.peek(), how: text.log.asPlanned, planned: true })],
  search: ({ specimen }) => [checkNow(`specimen/${specimen}`, { night: true })],
  topUp: ({ system }) => [topUpNow(system)],
  trim: ({ specimen, system }) => [writeEvent('trimmed', { of: specimen ? `specimen/${specimen}` : system, by: observer.peek() })],
};

/** @param {Due} due @returns {Promise<Done>} */
export async function act(due) {
  const made = await Promise.all(acts[due.what](due));
  const t = /** @type {any} */ (text.due.done)[due.what];
  const says = typeof t === 'function' ? t(due.what === 'check' || due.what === 'topUp' ? where(due.system) : who(due)) : t;
  const kept = made.every((one) => one.kept);
  announce(kept ? says : text.unkept);
  return { says, ids: made.map(({ id }) => id), kept };
}

/** @param {Done} done */
export async function takeBack({ ids }) {
  for (const id of ids) await write('event', id, { deleted: true });
  announce(text.due.undone);
}
