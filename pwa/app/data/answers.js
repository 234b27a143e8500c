// The last answers of the core, kept with what they answer, so that the next visit paints
// them before the core is up.

import { get, put } from './db.js';

/**
 * @typedef {object} Kept
 * @property {string} build the version of the app that kept it
 * @property {string} core the core's version
 * @property {string} question the request, as JSON
 * @property {any} answer
 * @property {{from: string, to: string}[]} lit
 * @property {string} at when, RFC 3339 UTC
 */

/** @returns {Promise<Kept | undefined>} */
export const keptWindows = () => get('answers', 'windows');
/** @param {Kept} kept */
export const keepWindows = (kept) => put('answers', 'windows', kept);
