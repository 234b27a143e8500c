// What this phone's household reads its water with: the instrument, its scale, how the kits
// state their results. Kept, so that it is chosen once.

import { get, put } from './db.js';

/** @returns {Promise<Record<string, string> | undefined>} by the names of the form's fields */
export const keptInstrument = () => get('choices', 'instrument');
/** @param {Record<string, string>} chosen */
export const keepInstrument = (chosen) => put('choices', 'instrument', chosen);
