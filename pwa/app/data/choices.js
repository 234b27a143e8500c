// What the person has chosen in Plan: the span of days.

import { get, put } from './db.js';

/** @typedef {{from: string, days: number}} Span from is a local day, YYYY-MM-DD */

/** @returns {Promise<Span | undefined>} */
export const keptSpan = () => get('choices', 'span');
/** @param {Span} span */
export const keepSpan = (span) => put('choices', 'span', span);
