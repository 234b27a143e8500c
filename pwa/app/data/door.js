// The household's door: how this phone joins, who it then is, and what its keeper may do
// about other devices. The rules stand in server/doors.go.

import { signal } from '@preact/signals';
import { api } from './api.js';
import { get, put } from './db.js';

/** @typedef {'keeper' | 'collector' | 'child' | 'guest'} Role */
/** @typedef {{id: string, name: string, role: Role, createdMs: number, seenMs: number, shutOutMs?: number}} Device */
/**
 * household is its id. strange says that this phone still holds another household's book,
 * which must not get into this one: see forget in epoch.js.
 * @typedef {{device: Omit<Device, 'seenMs'>, household: string, strange?: boolean}} Me
 */

/** Who this phone is in its household, as the server last said; null while it has not joined. */
export const me = signal(/** @type {Me | null} */ (null));

/** Whether it is known who this phone is: until then it may be anybody's, and nothing is offered that a role forbids. */
export const meRead = signal(false);

/** Reads it from the phone. */
export async function recallMe() {
  me.value = (await get('choices', 'me')) ?? null;
  meRead.value = true;
}

/** @param {Me} now */
async function keepMe(now) {
  if (JSON.stringify(now) === JSON.stringify(me.peek())) return;
  await put('choices', 'me', now);
  me.value = now;
}

/**
 * Redeems an invitation.
 * @param {string} code as typed
 * @param {string} name of this phone
 */
export async function join(code, name) {
  const before = me.peek()?.device.id;
  try {
    await api('POST', '/api/pair', { code, name });
    await refreshMe();
  } catch (error) {
    // The answer may be lost after the code was used; with it came the cookie, or not.
    await refreshMe().catch(() => {});
    const now = me.peek()?.device.id;
    if (!now || now === before) throw error;
  }
}

/**
 * Asks the server who this phone is: its role or name may have changed. The server then
 * renews the cookie too.
 */
export async function refreshMe() {
  const { device: { seenMs: _, ...device }, household } = await api('GET', '/api/me');
  // Another tab may have joined meanwhile.
  const before = /** @type {Me | null} */ ((await get('choices', 'me')) ?? me.peek());
  const strange = before !== null && (before.strange || before.household !== household);
  /** @type {Me} */
  const now = { device, household, ...(strange ? { strange } : {}) };
  const shown = me.peek();
  if (shown === null || told(shown) !== told(now)) await keepMe(now);
}

/**
 * What the app goes by; when a device was last seen is no news.
 * @param {Me} one
 */
const told = ({ device: { id, name, role }, household, strange }) => JSON.stringify([id, name, role, household, Boolean(strange)]);

/** The other household's book is off this phone. */
export async function notStrange() {
  const now = me.peek();
  if (now) await keepMe({ device: now.device, household: now.household });
}

/** @returns {Promise<Device[]>} those shut out too */
export const devices = async () => (await api('GET', '/api/devices')).devices;

/** @param {string} id @returns {Promise<Device[]>} as they are after it */
export const shutOut = async (id) => (await api('POST', `/api/devices/${id}/shut-out`, {})).devices;

/**
 * @param {{role: Role, name: string, minutes: number}} wanted
 * @returns {Promise<{code: string, link: string, role: Role, expiresMs: number, qr: string[]}>} qr: rows of 1 for dark
 */
export const invite = (wanted) => api('POST', '/api/invitations', wanted);
