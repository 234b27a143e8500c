// Photos of finds. Each is drawn anew on this phone, so that no place, time or name of a
// camera is in it, and named by the SHA-256 of its bytes. The whole picture stays until
// the server has acknowledged it; a small one stays for good.

import { ApiError, api } from './api.js';
import { found, get, write } from './db.js';

/** The longer side, in pixels. */
const WHOLE = 2048;
const SMALL = 240;
const QUALITY = 0.82;
const SEND_MS = 300_000;

/** @typedef {{sha: string, bytes: ArrayBuffer, outbox?: 1, unfit?: string}} Whole bytes of a JPEG; see Change for the rest */

/**
 * Keeps a picture. Where the phone has no room for it, or the picture cannot be read, the
 * find that it belongs to is kept all the same: the caller says what happened.
 * @param {Blob} file from a camera or an album
 * @returns {Promise<{sha: string, kept: boolean}>} rejects for what is no picture
 */
export async function keepPhoto(file) {
  // Before the transaction: anything awaited in it that is not the database ends it.
  const picture = await createImageBitmap(file, /** @type {any} */ ({ imageOrientation: 'from-image' }));
  const bytes = await drawn(picture, WHOLE);
  const small = await drawn(picture, SMALL);
  picture.close();
  const sha = hex(await crypto.subtle.digest('SHA-256', bytes));
  const kept = await write(['photos', 'thumbs'], async (tx) => {
    await tx.objectStore('photos').put({ sha, bytes, outbox: 1 });
    await tx.objectStore('thumbs').put({ sha, bytes: small });
  });
  return { sha, kept };
}

/**
 * @param {ImageBitmap} picture
 * @param {number} most
 * @returns {Promise<ArrayBuffer>} a JPEG
 */
async function drawn(picture, most) {
  const scale = Math.min(1, most / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  /** @type {Blob | null} */
  const blob = await new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg', QUALITY));
  if (!blob) throw new Error('the picture could not be drawn');
  return blob.arrayBuffer();
}

/** @param {ArrayBuffer} bytes */
const hex = (bytes) => Array.from(new Uint8Array(bytes), (byte) => byte.toString(16).padStart(2, '0')).join('');

/**
 * The picture as far as this phone has it.
 * @param {string} sha
 * @returns {Promise<Blob | undefined>}
 */
export async function keptPhoto(sha) {
  const kept = (await get('photos', sha)) ?? (await get('thumbs', sha));
  return kept && new Blob([kept.bytes], { type: 'image/jpeg' });
}

/**
 * Sends every photo that the server has not.
 * @param {() => Promise<boolean>} sent called after each; false ends it for now
 */
export async function sendPhotos(sent) {
  for (;;) {
    const [photo] = /** @type {Whole[]} */ (await found('photos', 'outbox', 1, 1));
    if (!photo) return;
    let unfit = '';
    try {
      await api('PUT', `/api/photos/${photo.sha}`, new Blob([photo.bytes], { type: 'image/jpeg' }), { timeoutMs: SEND_MS });
    } catch (error) {
      if (!(error instanceof ApiError) || ![400, 413, 415, 422].includes(error.status)) throw error;
      await api('GET', '/api/me'); // a stranger's photo is too large at any size
      unfit = error.message; // it would be refused for ever, and hold up the others
    }
    const kept = await write(['photos'], async (tx) => {
      if (unfit) await tx.objectStore('photos').put({ sha: photo.sha, bytes: photo.bytes, unfit });
      else await tx.objectStore('photos').delete(photo.sha);
    });
    if (!kept) throw new Error('this phone does not keep what was sent');
    if (!(await sent())) return;
  }
}
