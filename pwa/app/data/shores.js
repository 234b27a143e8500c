// The household's shores. Every save also appends what it changed, in one transaction, so
// that a book can adopt the shores with their past.

import { all, get, put, write } from './db.js';
import { change } from './schema.js';
import { apply, changed, fieldsOf } from './shore-record.js';

/** @typedef {import('./shore-record.js').Shore} Shore */

/** @returns {Promise<Shore[]>} deleted ones too, which can be brought back */
export const keptShores = () => all('shores');

/** @returns {Promise<string | undefined>} the id of the shore chosen last */
export const keptChosen = () => get('choices', 'chosen');
/** @param {string} id */
export const keepChosen = (id) => put('choices', 'chosen', id);

/**
 * Keeps a shore. Only what differs from before is set, so that what another tab has
 * changed meanwhile stays.
 * @param {Shore} shore
 * @param {Shore} [before] what the change started from; none for a new shore
 * @returns {Promise<boolean>} whether this phone has kept it
 */
export function keepShore(shore, before) {
  const fields = before ? changed(before, shore) : fieldsOf(shore);
  return write(['shores', 'changes', 'choices'], async (tx) => {
    const shores = tx.objectStore('shores');
    const stored = await shores.get(shore.id);
    await shores.put(stored ? apply(stored, fields) : shore);
    // A shore that was never kept before is kept whole.
    await tx.objectStore('changes').put(await change(tx, shore.id, stored ? fields : fieldsOf(shore)));
  });
}
