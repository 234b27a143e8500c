// A plan as it is written and as the fields of its record. Nothing here but reading.

import { uuidv7 } from '../../data/ids.js';
import { clock, localDay } from '../parts/when.js';
import { clockOf, nextAt, rfc3339 } from './outing-times.js';
import { text } from '../../text/en.js';

/** @typedef {import('./outing.js').Outing} Outing */
/** @typedef {import('./outing.js').Person} Person */
/** @typedef {import('../../data/shore-record.js').Shore} Shore */
/** @typedef {{from: string, to: string, startBack: string | null, offBy: string | null}} Planned */
/** @typedef {Omit<Person, 'number'> & {number: string}} Comer as it is typed; '' for no number */
/** @typedef {{word: string, what: string, packed: boolean}} Thing */

/**
 * @typedef {object} Trip
 * @property {string} shore id
 * @property {string} on local day of the low water, YYYY-MM-DD
 * @property {Planned | null} planned
 * @property {'home' | 'teaching' | 'trade'} purpose
 * @property {Comer[]} party
 * @property {Thing[]} gear
 * @property {(Thing & {litres: number | null})[]} containers
 * @property {string} who
 * @property {string} call
 * @property {string} due a clock as typed; '' for what is proposed
 * @property {string} note
 */

/** Nobody is due back later than this after the rocks, by accident or else. */
const MOST_AFTER_MS = 12 * 3_600_000;

/** As internal/book has them, in characters. */
export const MOST = { name: 80, call: 300, note: 2000, what: 80 };

/**
 * A new plan: who came and what was packed last time, or everybody and the first list.
 * @param {Shore} shore
 * @param {Outing | undefined} last of the household
 * @param {{id: string, name: string, as: string}[]} members
 * @returns {Trip}
 */
export function freshTrip(shore, last, members) {
  const t = text.trip;
  const came = last?.party.filter(({ id }) => members.some((one) => one.id === id)) ?? [];
  const ids = came.length > 0 ? came.map(({ id }) => id) : members.map(({ id }) => id);
  /** @type {Comer[]} */
  const party = [];
  for (const id of ids) {
    const member = /** @type {{id: string, name: string, as: string}} */ (members.find((one) => one.id === id));
    const before = came.find((one) => one.id === id);
    party.push(comer(member, party, before));
  }
  const unpacked = (/** @type {Record<string, string>} */ first) => Object.entries(first).map(([word, what]) => ({ word, what, packed: false }));
  const again = (/** @type {any[]} */ list) => list.map((one) => ({ ...one, packed: false }));
  return {
    shore: shore.id, on: localDay(Date.now(), shore.zone), planned: null, purpose: last?.purpose ?? 'home', party,
    gear: last?.gear.length ? again(last.gear) : unpacked(t.gear),
    containers: last?.containers.length ? again(last.containers) : unpacked(t.boxes).map((one) => ({ ...one, litres: null })),
    who: last?.ashore?.who ?? '', call: last?.ashoreCall ?? '', due: '', note: '',
  };
}

/**
 * One more of a party: a child gets the next number that nobody wears.
 * @param {{id: string, name: string, as: string}} one
 * @param {Comer[]} party
 * @param {Person} [before] how they came last time
 * @returns {Comer}
 */
export function comer({ id, name, as }, party, before) {
  let number = 1;
  while (party.some((other) => other.number === String(number))) number++;
  const child = as === 'child';
  return { id, name, as: child ? 'child' : 'adult', number: child ? String(before?.number ?? number) : '', with: before?.with, does: before?.does ?? 'gathers' };
}

/**
 * @param {Outing} outing
 * @param {string} zone
 * @param {string} note
 * @returns {Trip}
 */
export function tripOf(outing, zone, note) {
  const { planned, ashore } = outing;
  return {
    shore: outing.shore, on: localDay(planned ? Date.parse(planned.from) : Date.now(), zone), planned, purpose: outing.purpose,
    party: outing.party.map((one) => ({ ...one, number: one.number ? String(one.number) : '' })), gear: outing.gear, containers: outing.containers,
    who: ashore?.who ?? '', call: outing.ashoreCall, due: ashore ? clock(ashore.dueBack, zone) : '', note,
  };
}

/**
 * The fields of the record that a plan comes to, or what is wrong with it.
 * @param {Trip} trip
 * @param {string} zone
 * @param {number | undefined} proposedMs when the party is due back, unless it says otherwise
 * @returns {{fields?: Record<string, any>, wrong: Record<string, string>}}
 */
export function read(trip, zone, proposedMs) {
  const t = text.trip;
  /** @type {Record<string, string>} */
  const wrong = {};
  const long = (/** @type {string} */ field, /** @type {string} */ words, /** @type {number} */ most) => {
    if (Array.from(words.trim()).length > most) wrong[field] = t.tooLong(most);
  };
  long('who', trip.who, MOST.name);
  long('call', trip.call, MOST.call);
  long('note', trip.note, MOST.note);
  for (const { id, number } of trip.party) if (number.trim() && !/^[1-9]\d?$/.test(number.trim())) wrong[`number-${id}`] = t.needNumber;

  const hhmm = clockOf(trip.due);
  if (trip.due.trim() && !hhmm) wrong.due = t.needDue;
  const offByMs = trip.planned?.offBy ? Date.parse(trip.planned.offBy) : undefined;
  const startMs = trip.planned ? Date.parse(trip.planned.from) : Date.parse(`${trip.on}T00:00:00Z`);
  const dueMs = hhmm ? nextAt(hhmm, startMs, zone) : proposedMs;
  if (trip.who.trim() && dueMs === undefined) wrong.due ??= t.needDue;
  if (hhmm && !trip.who.trim()) wrong.who ??= t.needWho;
  if (hhmm && offByMs !== undefined && dueMs !== undefined && dueMs < offByMs) wrong.due ??= t.dueEarly;
  // A clock that was right for another window would be taken for one of the next day.
  if (hhmm && offByMs !== undefined && dueMs !== undefined && dueMs - offByMs > MOST_AFTER_MS) wrong.due ??= t.dueLate;
  if (Object.keys(wrong).length > 0) return { wrong };

  /** @type {Record<string, any>} */
  const fields = {
    shore: trip.shore, purpose: trip.purpose, planned: trip.planned,
    ashore: trip.who.trim() && dueMs !== undefined ? { who: trip.who.trim(), dueBack: rfc3339(dueMs) } : null,
    ashoreCall: trip.call.trim() || null, note: trip.note.trim(),
  };
  const here = (/** @type {string | undefined} */ id) => trip.party.some((one) => one.id === id);
  for (const { id, as, name, number, with: buddy, does } of trip.party) {
    fields[`party/${id}`] = { as, name, ...(as === 'child' && number.trim() ? { number: Number(number) } : {}), ...(here(buddy) ? { with: buddy } : {}), does };
  }
  for (const { word, what, packed } of trip.gear) fields[`gear/${word}`] = { what, packed };
  for (const { word, what, litres, packed } of trip.containers) fields[`containers/${word}`] = { what, litres: litres ?? null, packed };
  return { fields, wrong };
}

/**
 * What of the fields differs from a record; elements that are gone are null.
 * @param {Record<string, any>} fields
 * @param {Record<string, any>} before the record's
 */
export function changes(fields, before) {
  /** @type {Record<string, any>} */
  const all = { ...fields };
  for (const name of Object.keys(before)) if (/^(party|gear|containers)\//.test(name) && before[name] && !(name in all)) all[name] = null;
  const same = (/** @type {any} */ a, /** @type {any} */ b) => JSON.stringify(sorted(a)) === JSON.stringify(sorted(b));
  return Object.fromEntries(Object.entries(all).filter(([name, value]) => !same(value, before[name] ?? (name === 'note' ? '' : null))));
}

/**
 * Fields in one order, whoever wrote them.
 * @param {any} value
 */
const sorted = (value) => (value && typeof value === 'object' ? Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1))) : value);

/**
 * A thing that is added to a list.
 * @param {string} what
 */
export const thing = (what) => ({ word: uuidv7(), what, packed: false });
