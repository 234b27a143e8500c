// Every value that the fields of a record ever had, as far as this phone has heard: one
// that joined later has those of its own time, and what stood when it joined.

import { call } from '../core.js';
import { found } from './db.js';
import { bare } from './journal.js';

/**
 * Times are RFC 3339; written is by the clock of the device that wrote it, arrived by the
 * server's, null while it has not answered.
 * @typedef {{value: any, change: string, written: string, device: string, arrived: string | null, refused?: string, stands: boolean}} Version
 */

/**
 * @param {string} kind
 * @param {string} id
 * @returns {Promise<{field: string, versions: Version[]}[]>} by field, earliest first; rejects with a CoreError
 */
export async function pastOf(kind, id) {
  const changes = await found('changes', 'record', [kind, id]);
  return (await call('past', { kind, id, changes: changes.map(bare) })).fields;
}
