// What the person has chosen in Plan: the shore and the span of days.

import { get, put } from './db.js';

/**
 * A shore as the core takes it, and the names to show. Metres and minutes.
 * @typedef {object} Shore
 * @property {string} station the station's id
 * @property {string} name
 * @property {string} place
 * @property {string} zone IANA name
 * @property {number} lat degrees, north positive
 * @property {number} lon degrees, east positive
 * @property {number} below the shore is bare below this height
 * @property {number | null} wayOff the way back is cut at this height; null if unknown
 * @property {boolean} cutOff whether the shore can be cut off
 * @property {number} walkOut minutes that the slowest needs to walk out
 */

/** @typedef {{from: string, days: number}} Span from is a local day, YYYY-MM-DD */

/** @returns {Promise<Shore | undefined>} */
export const keptShore = () => get('choices', 'shore');
/** @param {Shore} shore */
export const keepShore = (shore) => put('choices', 'shore', shore);

/** @returns {Promise<Span | undefined>} */
export const keptSpan = () => get('choices', 'span');
/** @param {Span} span */
export const keepSpan = (span) => put('choices', 'span', span);
