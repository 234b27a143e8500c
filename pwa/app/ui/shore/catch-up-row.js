// A row of the slate as it is typed and as the fields of a find. Nothing here but reading.

import { clockOf, instantOn, rfc3339 } from './outing-times.js';
import { text } from '../../text/en.js';

/** Letters of a kind, as internal/book has it. */
const MOST_TAXON = 120;
/** The word of the book for what nobody could name. */
export const UNSURE = 'unsure';

/** @typedef {{time: string, kind: string, amount: string, who: string, fate: 'seen' | 'taken'}} Pencilled */

/**
 * @param {Pencilled} row
 * @param {{id: string, shore: string}} outing
 * @param {string} day of the outing, local
 * @param {string} zone
 * @param {number} nowMs
 * @returns {{fields?: Record<string, any>, wrong: Record<string, string>}}
 */
export function findOf(row, outing, day, zone, nowMs) {
  const t = text.catchUp;
  /** @type {Record<string, string>} */
  const wrong = {};
  const hhmm = clockOf(row.time);
  const atMs = hhmm ? instantOn(day, hhmm, zone) : NaN;
  if (!hhmm) wrong.time = t.needTime;
  else if (atMs > nowMs) wrong.time = t.future(hhmm);
  const amount = row.amount.trim();
  if (amount && !/^[1-9]\d{0,3}$/.test(amount)) wrong.amount = t.needAmount;
  const taxon = row.kind.trim();
  if (Array.from(taxon).length > MOST_TAXON) wrong.kind = text.trip.tooLong(MOST_TAXON);
  if (Object.keys(wrong).length > 0) return { wrong };
  return {
    wrong,
    fields: {
      at: rfc3339(atMs), outing: outing.id, shore: outing.shore, by: row.who || null, taxon: taxon || UNSURE, fate: row.fate,
      ...(amount ? { amount: { value: Number(amount), unit: 'count' } } : {}), noted: 'slate',
    },
  };
}
