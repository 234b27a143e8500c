// What this phone has not sent, as a file that the server's `unsent` command takes in: for
// a phone that cannot reach the server, or that it no longer knows.

import { all, get, keys } from './db.js';
import { bare } from './journal.js';

/** @returns {Promise<import('./journal.js').Change[]>} written here and not acknowledged, in the order of writing */
async function unsentChanges() {
  return (await all('changes')).filter(({ outbox, unfit }) => outbox || unfit).sort((a, b) => (a.stamp < b.stamp ? -1 : 1));
}

/**
 * Changes of this phone that do not count, and why: refused by role, or not of the form.
 * @returns {Promise<{change: import('./journal.js').Change, why: string}[]>} newest first
 */
export async function notCounted() {
  return (await all('changes'))
    .flatMap((change) => {
      const why = change.receipt?.refused ?? change.unfit;
      return why ? [{ change, why }] : [];
    })
    .sort((a, b) => (a.change.stamp > b.change.stamp ? -1 : 1));
}

/** The form is that of server/chores.go. @returns {Promise<Blob>} */
export async function unsentFile() {
  const parts = ['{"wrackbook":"unsent","protocol":1,"changes":[', (await unsentChanges()).map((change) => JSON.stringify(bare(change))).join(','), '],"photos":{'];
  /** @type {BlobPart[]} */
  const blobs = parts;
  // One at a time: hundreds of megabytes do not fit into a phone's memory at once.
  for (const [i, sha] of (await keys('photos')).entries()) {
    const photo = await get('photos', sha);
    if (!photo) throw new Error('a photo could not be read');
    blobs.push(new Blob([i ? ',' : '', `"${sha}":"`, base64(photo.bytes), '"']));
  }
  return new Blob([...blobs, '}}'], { type: 'application/json' });
}

/** @param {ArrayBuffer} bytes */
function base64(bytes) {
  let text = '';
  const view = new Uint8Array(bytes);
  for (let i = 0; i < view.length; i += 0x8000) text += String.fromCharCode(...view.subarray(i, i + 0x8000));
  return btoa(text);
}
