// What handing on writes: the part as a specimen of its own, that it was parted, to whom it
// went. Taken back, all of it goes again.

import { write } from '../../data/book.js';
import { uuidv7 } from '../../data/ids.js';
import { instant } from '../shore/outing-state.js';

/**
 * whole: all of the lot went. was: the amount of the lot before, where a part was taken off it.
 * @typedef {{id: string, of: string, to: string, whole: boolean, events: string[], was?: {value: number, unit: string}, kept: boolean}} Given
 */

/** @typedef {{taxon: string, group?: string, name?: string, find?: string | null, source?: string, base?: string | null, origin?: string | null, amount?: {value: number, unit: string} | null, id: string}} One */

/**
 * @param {One} one
 * @param {{whole: boolean, amount?: {value: number, unit: string}, to: string, by: string | null}} how
 * @returns {Promise<Given>}
 */
export async function giveAway(one, { whole, amount, to, by }) {
  const id = whole ? one.id : uuidv7();
  const at = instant();
  /** @type {string[]} */
  const events = [];
  let kept = true;
  const note = async (/** @type {Record<string, any>} */ fields) => {
    const event = uuidv7();
    events.push(event);
    kept = (await write('event', event, fields)) && kept;
  };
  const left = amount && one.amount && one.amount.unit === amount.unit ? Math.round((one.amount.value - amount.value) * 1000) / 1000 : undefined;
  if (!whole) {
    const { taxon, group, name, find, source, base, origin } = one;
    const same = Object.entries({ taxon, group, name, find, source, base, origin }).filter(([, value]) => value);
    kept = await write('specimen', id, { ...Object.fromEntries(same), lot: one.id, ...(amount ? { amount } : {}) });
    await note({ parted: { at, of: `specimen/${one.id}`, by, into: id } });
    if (left !== undefined) kept = (await write('specimen', one.id, { amount: { value: left, unit: one.amount?.unit } })) && kept;
  }
  await note({ gone: { at, of: `specimen/${id}`, by, how: 'given away', to } });
  return { id, of: one.id, to, whole, events, kept, ...(left !== undefined && one.amount ? { was: one.amount } : {}) };
}

/**
 * @param {Given} given
 * @returns {Promise<boolean>} whether this phone has kept it
 */
export async function takeBack({ id, of, whole, events, was }) {
  let kept = true;
  for (const event of events) kept = (await write('event', event, { deleted: true })) && kept;
  if (!whole) kept = (await write('specimen', id, { deleted: true })) && kept;
  if (was) kept = (await write('specimen', of, { amount: was })) && kept;
  return kept;
}
