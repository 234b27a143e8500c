// Fourteen days of predicted heights beside the shore, so that the water now can be shown
// by interpolation when the core is not up.

import { get, put } from './db.js';

/**
 * @typedef {object} Heights
 * @property {string} shore the shore's id
 * @property {string} basis what the core was asked of, as JSON
 * @property {number} [atMs] when they were reckoned; those of older versions do not say
 * @property {number} startMs instant of the first height
 * @property {number} stepMs between heights
 * @property {Int32Array} mm heights above chart datum in millimetres
 */

export const STEP_MINUTES = 10;
export const DAYS = 14;
/** How much of them lies before the instant at which they were reckoned. */
export const BEFORE_HOURS = 12;

/** @param {string} shore @returns {Promise<Heights | undefined>} */
export const keptHeights = (shore) => get('heights', shore);
/** @param {Heights} heights */
export const keepHeights = (heights) => put('heights', heights.shore, heights);
