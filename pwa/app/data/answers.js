// The last answers of the core, kept with what they answer, so that the next visit paints
// them before the core is up: one list, one day, one year, and the next days of each shore.

import { get, put } from './db.js';

/** @typedef {'list' | 'day' | 'year'} Kind */

/**
 * @typedef {object} Kept
 * @property {string} build the version of the app that kept it
 * @property {string} question as JSON
 * @property {any} answer
 * @property {string} at when, RFC 3339 UTC
 */

/** @param {Kind} kind @returns {Promise<Kept | undefined>} */
export const keptAnswer = (kind) => get('answers', kind);
/** @param {Kind} kind @param {Kept} kept */
export const keepAnswer = (kind, kept) => put('answers', kind, kept);

/** @param {string} shore id @returns {Promise<Kept | undefined>} the next days of a shore */
export const keptNow = (shore) => get('answers', `now:${shore}`);
/** @param {string} shore id @param {Kept} kept */
export const keepNow = (shore, kept) => put('answers', `now:${shore}`, kept);
