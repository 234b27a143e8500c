// What the person has chosen in Plan: which days, and which windows of them.

import { get, put } from './db.js';

/**
 * @typedef {object} Asked
 * @property {string} from a local day, YYYY-MM-DD; '' for today
 * @property {number} days
 * @property {'sun' | 'civil' | 'any'} light
 * @property {number} least minutes worth going for
 * @property {boolean} weekends only those
 * @property {boolean} mornings only low waters before noon on the shore's clock
 * @property {'best' | 'date'} order
 */

/** @returns {Promise<Partial<Asked> | undefined>} */
export const keptAsked = () => get('choices', 'asked');
/** @param {Asked} asked */
export const keepAsked = (asked) => put('choices', 'asked', asked);
