// A part is taken off a lot: it becomes a specimen of its own, which keeps what it is and where
// it is from, and the lot has so much less.

import { write } from '../../data/book.js';
import { uuidv7 } from '../../data/ids.js';
import { writeEvent } from './picture-state.js';

/** @typedef {{value: number, unit: string}} Amount */
/** @typedef {{id: string, taxon: string, group: string, name?: string, find?: string | null, source?: string, base?: string | null, origin?: string | null, amount?: Amount | null}} Lot */

/**
 * @param {Lot} lot
 * @param {{amount?: Amount, name?: string, by: string | null}} how amount: undefined where nobody knows it
 * @returns {Promise<{id: string, event: string, was?: Amount, kept: boolean}>} id of the part; was: the amount of the lot before, where something was taken off it
 */
export async function partOff(lot, { amount, name, by }) {
  const id = uuidv7();
  const { taxon, group, find, source, base, origin } = lot;
  const same = Object.entries({ taxon, group, name, find, source, base, origin }).filter(([, value]) => value);
  let kept = await write('specimen', id, { ...Object.fromEntries(same), lot: lot.id, ...(amount ? { amount } : {}) });
  const parted = await writeEvent('parted', { of: `specimen/${lot.id}`, by, into: id });
  kept = parted.kept && kept;
  const was = amount && lot.amount?.unit === amount.unit ? lot.amount : undefined;
  if (was && amount) kept = (await write('specimen', lot.id, { amount: { value: Math.round((was.value - amount.value) * 1000) / 1000, unit: was.unit } })) && kept;
  return { id, event: parted.id, ...(was ? { was } : {}), kept };
}
