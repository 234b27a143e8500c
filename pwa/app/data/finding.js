// What this phone remembers between finds: who was chosen last, whether finds get their
// position, and which still wait for one.

import { get, put } from './db.js';

/** @returns {Promise<string | null | undefined>} id of a member or guest */
export const keptWho = () => get('choices', 'who');
/** @param {string | null} id */
export const keepWho = (id) => put('choices', 'who', id);

/** @returns {Promise<boolean | undefined>} whether the person wants positions */
export const keptPositions = () => get('choices', 'positions');
/** @param {boolean} wanted */
export const keepPositions = (wanted) => put('choices', 'positions', wanted);

/** @typedef {{id: string, atMs: number}} Waiting a find, and when it was logged */

/** @returns {Promise<Waiting[] | undefined>} */
export const keptWaiting = () => get('choices', 'awaitingFix');
/** @param {Waiting[]} list */
export const keepWaiting = (list) => put('choices', 'awaitingFix', list);

/**
 * What was answered to the rules on one outing, or day: by question, with what was asked, and in words.
 * @typedef {{of: string, answers: Record<string, boolean>, asked?: Record<string, string>, words: {gear?: string[], use?: string[], substrate?: string[]}}} Said
 */

/** @returns {Promise<Said | undefined>} */
export const keptAnswers = () => get('choices', 'answers');
/** @param {Said} said */
export const keepAnswers = (said) => put('choices', 'answers', said);
