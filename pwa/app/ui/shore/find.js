// A find as its record tells it, and what follows from its kind. Nothing here but reading.

import { UNSURE } from '../parts/kind-search.js';

/** @typedef {'attached' | 'drift' | 'living' | 'empty'} State */
/** @typedef {'count' | 'g' | 'mL' | 'mm'} Unit */
/** @typedef {{lat: number, lon: number, accuracyM: number | null}} Position degrees, and the radius in metres */

/**
 * @typedef {object} Find
 * @property {string} id
 * @property {number} atMs when it was found, Unix milliseconds
 * @property {string | null} outing id
 * @property {string | null} shore id
 * @property {string | null} by id of a member or a guest
 * @property {string} taxon as identified last
 * @property {string} first as it was logged
 * @property {string} group
 * @property {State | ''} state
 * @property {{value: number, unit: Unit} | null} amount
 * @property {'seen' | 'taken' | ''} fate
 * @property {{at: string, amount?: {value: number, unit: Unit}} | null} putBack
 * @property {Position | 'noFix' | null} position null: none was asked for
 * @property {string[]} photos their SHA-256
 * @property {{id: string, at: string, by: string | null, taxon: string, group: string, how?: string}[]} identified earliest first
 * @property {boolean} unfinished
 * @property {boolean} deleted
 * @property {Record<string, any>} fields all of the record
 */

/**
 * @param {import('../../data/book.js').Rec} record of the kind find
 * @returns {Find}
 */
export function findOf({ id, fields, deleted }) {
  const identified = Object.entries(fields)
    .filter(([name, value]) => name.startsWith('identified/') && value)
    .map(([name, value]) => ({ ...value, id: name.slice('identified/'.length) }))
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at) || (a.id < b.id ? -1 : 1)); // as internal/take has it
  const last = identified[identified.length - 1];
  return {
    id,
    atMs: Date.parse(fields.at),
    outing: fields.outing ?? null,
    shore: fields.shore ?? null,
    by: fields.by ?? null,
    taxon: last?.taxon ?? fields.taxon ?? UNSURE,
    first: fields.taxon ?? UNSURE,
    group: last?.group ?? fields.group ?? UNSURE,
    state: fields.state ?? '',
    amount: fields.amount ?? null,
    fate: fields.fate ?? '',
    putBack: fields.putBack ?? null,
    position: fields.position ?? null,
    photos: Object.entries(fields).filter(([name, value]) => name.startsWith('photos/') && value === true).map(([name]) => name.slice('photos/'.length)),
    identified,
    unfinished: fields.unfinished === true,
    deleted,
    fields,
  };
}

const ALGAE = ['greens', 'reds', 'browns', 'calcareous'];

/**
 * The states of life in which a group is met, the likeliest first.
 * @param {string} group
 * @returns {State[]}
 */
export function statesOf(group) {
  if (ALGAE.includes(group)) return ['attached', 'drift'];
  if (group === 'shells') return ['empty', 'living'];
  if (group === 'rock') return ['attached', 'drift'];
  if (group === UNSURE || group === '') return ['living', 'attached', 'drift', 'empty'];
  return ['living', 'drift', 'empty'];
}

/**
 * Why something is left where it is unless an adult decides otherwise: nobody knows what it
 * is, it is an animal that may be alive, or a kind that the law or its spreading makes grave.
 * '' where nothing stands against it but the rules.
 * @param {{taxon: string, group: string, state: State | ''}} find
 * @param {{hurts: boolean, controlled: boolean, invasive: string[] | null} | undefined} listed as the starting list has it
 * @returns {'' | 'unsure' | 'alive' | 'controlled' | 'invasive' | 'hurts'}
 */
export function leaveIt({ taxon, group, state }, listed) {
  if (listed?.controlled) return 'controlled';
  if (listed?.invasive?.length) return 'invasive';
  if (taxon === UNSURE || group === UNSURE || group === '') return 'unsure';
  if (ALGAE.includes(group) || state === 'empty') return listed?.hurts ? 'hurts' : '';
  return 'alive';
}

/**
 * Photos as the fields of a change.
 * @param {string[]} photos
 */
export const photoFields = (photos) => Object.fromEntries(photos.map((sha) => [`photos/${sha}`, true]));

/**
 * How much was taken and not put back, of finds of one kind, by unit.
 * @param {Find[]} finds
 * @returns {{value: number, unit: Unit}[]}
 */
export function takenOf(finds) {
  /** @type {Map<Unit, number>} */
  const sums = new Map();
  for (const { fate, amount, putBack } of finds) {
    if (fate !== 'taken') continue;
    const { value, unit } = amount ?? { value: 1, unit: /** @type {Unit} */ ('count') };
    const back = !putBack ? 0 : putBack.amount?.unit === unit ? putBack.amount.value : value;
    sums.set(unit, (sums.get(unit) ?? 0) + Math.max(0, value - back));
  }
  return [...sums].filter(([, value]) => value > 0).map(([unit, value]) => ({ unit, value: Math.round(value * 1000) / 1000 }));
}
