// The mornings that the person has chosen to tell friends about.

import { get, put } from './db.js';

/**
 * One chosen window, with what it stood on: if the shore is changed, the times may no
 * longer hold.
 * @typedef {object} Chosen
 * @property {string} shore the shore's id
 * @property {string} basis the shore as the core was asked, as JSON
 * @property {string} name of the shore
 * @property {string} zone IANA name
 * @property {string} day the shore's local day, YYYY-MM-DD
 * @property {string} usableFrom RFC 3339 UTC, as are the times below
 * @property {string} usableTo
 * @property {string} lowTime
 * @property {number} lowHeight metres above chart datum
 * @property {string} startBack
 * @property {string} offBy
 * @property {boolean} dark whether a part of it is dark
 */

/** @returns {Promise<Chosen[] | undefined>} */
export const keptMornings = () => get('choices', 'mornings');
/** @param {Chosen[]} mornings */
export const keepMornings = (mornings) => put('choices', 'mornings', mornings);
