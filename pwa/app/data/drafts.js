// Forms that were begun and not saved, so that a reload loses nothing of them.

import { drop, get, put } from './db.js';

/** @param {string} form @returns {Promise<any>} */
export const keptDraft = (form) => get('drafts', form);
/** @param {string} form @param {object} draft */
export const keepDraft = (form, draft) => put('drafts', form, draft);
/** @param {string} form */
export const dropDraft = (form) => drop('drafts', form);
