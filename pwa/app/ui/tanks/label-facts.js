// What a label can truly say of a specimen: its lot, since when it was with us, how long it
// was watched. Nothing here but reading.

import { daysBetween, localDay } from '../parts/when.js';

/** Crockford's letters: none is taken for another. */
const LETTERS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/**
 * A short name of a lot for paper: six letters from the end of its id, which is chance.
 * @param {string} id UUID
 */
export function lotCode(id) {
  let left = Number.parseInt(id.replaceAll('-', '').slice(-8), 16);
  let code = '';
  for (let i = 0; i < 6; i++) {
    code = LETTERS[left % 32] + code;
    left = Math.floor(left / 32);
  }
  return code;
}

/** @typedef {Record<string, any> & {id: string}} Fields of a record, with its id */

/**
 * The lots that a specimen was parted from, nearest first, itself before them.
 * @param {string} id
 * @param {Fields[]} specimens
 * @param {Fields[]} events
 * @returns {string[]} ids
 */
export function lineOf(id, specimens, events) {
  const from = new Map(events.filter(({ parted }) => parted).map(({ parted }) => [parted.into, parted.of.replace('specimen/', '')]));
  for (const one of specimens) if (one.lot) from.set(one.id, one.lot);
  const line = [id];
  for (let next = from.get(id); next && !line.includes(next); next = from.get(next)) line.push(next);
  return line;
}

/**
 * @param {string} id
 * @param {{specimens: Fields[], events: Fields[], zone: string, today: string}} book
 * @returns {{lot: string, line: string[], arrived: string | undefined, cleared: string | undefined, left: string | undefined, days: number | undefined, to: string}}
 *   lot is the id of the first of its line, and line those between, itself first; days from arrival to leaving or today; cleared: the day on which it or what it was
 *   parted from was let into a display; to: who has it now
 */
export function factsOf(id, { specimens, events, zone, today }) {
  const line = lineOf(id, specimens, events);
  const day = (/** @type {string} */ at) => localDay(Date.parse(at), zone);
  const [own, ...before] = line.map((one) => `specimen/${one}`);
  const parted = events.find((e) => e.parted?.into === id)?.parted.at ?? '9999';
  /** When one kind of event was, its own or, until it was parted, of what it was part of. */
  const when = (/** @type {string} */ what) => events.filter((e) => e[what] && (e[what].of === own || (before.includes(e[what].of) && e[what].at <= parted))).map((e) => e[what].at).sort();
  const first = when('arrived')[0];
  const gone = events.filter((e) => e.gone?.of === own).map((e) => e.gone).sort((a, b) => (a.at < b.at ? 1 : -1))[0];
  const [cleared] = when('cleared').slice(-1);
  const arrived = first && day(first);
  const left = gone && day(gone.at);
  return { lot: line[line.length - 1], line, arrived, cleared: cleared && day(cleared), left, days: arrived ? daysBetween(arrived, left ?? today) : undefined, to: gone?.to ?? '' };
}
