// What handing on writes: the part as a specimen of its own, that it was parted, to whom it
// went. Taken back, all of it goes again.

import { write } from '../../data/book.js';
import { writeEvent } from './picture-state.js';
import { partOff } from './specimen-parted.js';

/**
 * whole: all of the lot went. was: the amount of the lot before, where a part was taken off it.
 * @typedef {{id: string, of: string, to: string, whole: boolean, events: string[], was?: {value: number, unit: string}, kept: boolean}} Given
 */

/**
 * @param {import('./specimen-parted.js').Lot} one
 * @param {{whole: boolean, amount?: import('./specimen-parted.js').Amount, to: string, by: string | null}} how
 * @returns {Promise<Given>}
 */
export async function giveAway(one, { whole, amount, to, by }) {
  const part = whole ? undefined : await partOff(one, { amount, name: one.name, by });
  const id = part?.id ?? one.id;
  const gone = await writeEvent('gone', { of: `specimen/${id}`, by, how: 'given away', to });
  return { id, of: one.id, to, whole, events: [...(part ? [part.event] : []), gone.id], kept: gone.kept && (part?.kept ?? true), ...(part?.was ? { was: part.was } : {}) };
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
