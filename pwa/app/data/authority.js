// The household's own authority, which a new phone must be told to trust; see
// server/authority.go.

import { NoSignal } from './api.js';

const PATH = '/authority.crt';
const ANSWER_MS = 15_000;

/**
 * Its SHA-256 fingerprint as phones show it; undefined where the server vouches for itself in
 * no such way. A phone that asks over https trusts the authority already, so what it shows
 * is what another phone can be compared with.
 * @returns {Promise<string | undefined>} rejects with NoSignal
 */
export async function fingerprint() {
  const stop = new AbortController();
  const late = setTimeout(() => stop.abort(), ANSWER_MS);
  try {
    const response = await fetch(PATH, { cache: 'no-store', signal: stop.signal });
    const text = await response.text();
    const found = response.ok && /-----BEGIN CERTIFICATE-----([^-]+)-----END CERTIFICATE-----/.exec(text);
    if (!found) return undefined;
    const der = Uint8Array.from(atob(found[1].replace(/\s/g, '')), (sign) => sign.charCodeAt(0));
    const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', der));
    return Array.from(sum, (byte) => byte.toString(16).toUpperCase().padStart(2, '0')).join(':');
  } catch (error) {
    throw new NoSignal(String(error));
  } finally {
    clearTimeout(late);
  }
}

/** Where a new phone gets it, before it can trust https. */
export const authorityAddress = () => `http://${location.host}${PATH}`;
