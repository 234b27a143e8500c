// The last position that this phone found, so that it can be read out when no new one comes.
// It stays on this phone.

import { get, put } from './db.js';

/** @typedef {{lat: number, lon: number, accuracyM: number, atMs: number}} Fix degrees, north and east positive; accuracy in metres (95 %), as the phone says */

/** @returns {Promise<Fix | undefined>} */
export const keptFix = () => get('choices', 'fix');
/** @param {Fix} fix */
export const keepFix = (fix) => put('choices', 'fix', fix);
