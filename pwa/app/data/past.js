// Every value that the fields of a record ever had. Without signal a phone has those of its
// own time, and what stood when it joined; the server has all.

import { call } from '../core.js';
import { api } from './api.js';
import { found, get } from './db.js';
import { bare } from './journal.js';

/** Who reads a past has no time to lose on a bad signal. */
const ASK_MS = 4000;

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
  const here = (await found('changes', 'record', [kind, id])).map(bare);
  // The server's are whole where a snapshot brought only what still stood: they go first.
  const there = (await get('choices', 'me')) ? await api('POST', '/api/sync/history', { protocol: 1, kind, id }, { timeoutMs: ASK_MS }).then((answer) => answer.changes, () => []) : [];
  return (await call('past', { kind, id, changes: [...there, ...here] })).fields;
}
