// The household's shores, which are records of the book, and the one chosen last.

import { get, put } from './db.js';
import { ready, records, write } from './book.js';
import { apply, changed, fieldsOf } from './shore-record.js';

/** @typedef {import('./shore-record.js').Shore} Shore */

/** The shores as the book has them, deleted ones too, which can be brought back. */
export const bookShores = records('shore');

/** Resolves when they are read. */
export const shoresRead = () => ready('shore');

/**
 * A shore as Plan works with it.
 * @param {import('./book.js').Rec} record
 * @returns {Shore}
 */
export const shoreOf = ({ id, fields, deleted }) => ({ ...apply(/** @type {Shore} */ ({ id }), fields), deleted });

/** @returns {Promise<string | undefined>} the id of the shore chosen last */
export const keptChosen = () => get('choices', 'chosen');
/** @param {string} id */
export const keepChosen = (id) => put('choices', 'chosen', id);

/**
 * Keeps a shore. Only what differs from before is set, so that what another tab or
 * another phone has changed meanwhile stays.
 * @param {Shore} shore
 * @param {Shore} [before] what the change started from; none for a new shore
 * @returns {Promise<boolean>} whether this phone has kept it
 */
export const keepShore = (shore, before) => write('shore', shore.id, before ? changed(before, shore) : fieldsOf(shore));
