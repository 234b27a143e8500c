// A find while it is filled in: kept at every touch, so that a page that is loaded again,
// as happens behind an open camera, goes on where it was.

import { signal } from '@preact/signals';
import { get } from '../../data/db.js';
import { dropDraft, keepDraft, keptDraft } from '../../data/drafts.js';
import { uuidv7 } from '../../data/ids.js';
import { noFacts } from './find-fields.js';

/**
 * What stands in the form; numbers as typed. id is the find's, minted with the draft, so
 * that saving twice makes one find.
 * @typedef {object} Said
 * @property {string} id
 * @property {string} taxon '' while none is chosen
 * @property {string} group
 * @property {import('./find.js').State | ''} state
 * @property {string} value
 * @property {import('./find.js').Unit} unit
 * @property {'seen' | 'taken'} fate
 * @property {string | null | undefined} by undefined: whoever is chosen
 * @property {string[]} photos
 * @property {string} scale
 * @property {string} candidates one a line
 * @property {boolean} camera whether the camera was opened and has not come back
 */

/** @typedef {Said & import('./find-fields.js').Facts} Written */

/** @returns {Written} */
export const empty = () => ({
  ...noFacts, id: uuidv7(), taxon: '', group: '', state: '', value: '1', unit: 'count', fate: 'seen', by: undefined, photos: [], scale: '', candidates: '', camera: false,
});

const KEY = 'find:log';

export const draft = signal(empty());

/**
 * What the page says of a draft that it found: nothing, that it goes on, or that the camera
 * was open when the page went.
 */
export const found = signal(/** @type {'' | 'begun' | 'camera'} */ (''));

/** @type {Promise<void> | undefined} */
let recalled;

/** Reads what was left; what has been touched meanwhile stays. */
export function recallDraft() {
  recalled ??= keptDraft(KEY).then(async (kept) => {
    if (!kept) return undefined;
    // The page may have gone between the find and its draft: it is saved, and no draft any more.
    if (await get('records', ['find', kept.id])) return dropDraft(KEY);
    if (draft.peek().taxon) return undefined;
    found.value = kept.camera ? 'camera' : 'begun';
    draft.value = { ...empty(), ...kept, camera: false };
    return undefined;
  });
  return recalled;
}

/**
 * @param {Partial<Written>} change
 * @returns {Promise<void>} resolves when the phone has taken it, or cannot
 */
export function set(change) {
  draft.value = { ...draft.peek(), ...change };
  return keepDraft(KEY, draft.peek());
}

/** The find is saved or given up. */
export function clear() {
  draft.value = empty();
  found.value = '';
  return dropDraft(KEY);
}
