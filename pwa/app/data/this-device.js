// The id that this device puts into its stamps, and the record of the book by which others
// know whose they are.

import { signal } from '@preact/signals';
import { write as writeRecord } from './book.js';
import { get, write } from './db.js';
import { openClock } from './journal.js';

/** '' until it is read. */
export const thisDevice = signal('');

/** Reads the id, or makes it. */
export async function recallDevice() {
  await write(['choices'], async (tx) => {
    const { device, keep } = await openClock(tx);
    await keep();
    thisDevice.value = device;
  });
}

/**
 * Writes under which name this device is known, where the book does not say so yet.
 * @param {string} name as it joined
 */
export async function introduce(name) {
  const id = thisDevice.peek();
  if (id && !(await get('records', ['device', id]))) await writeRecord('device', id, { name });
}
