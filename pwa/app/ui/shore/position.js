// Where finds lie. The phone is asked for its position only while an outing is under way,
// and only after the person has said so. A find never waits for it: a fix that is fresh
// goes with it, one that comes within two minutes is added, and then it reads "no fix".

import { effect, signal } from '@preact/signals';
import { keepPositions, keepWaiting, keptPositions, keptWaiting } from '../../data/finding.js';
import { setFind } from './finds-state.js';
import { underWay } from './outing-state.js';

/** @typedef {import('./find.js').Position} Position */

/** A fix is of the find if it is at most this old when the find is logged, milliseconds. */
const FRESH_MS = 30_000;
/** How long a find is open for a fix. */
export const WITHIN_MS = 120_000;

/** Whether the person wants positions; undefined until it is read. */
export const wanted = signal(/** @type {boolean | undefined} */ (undefined));

/**
 * off: not asked. looking: asked, nothing yet. here: there is one. denied: the phone or its
 * owner does not give any. none: there is no fix to be had now.
 * @type {import('@preact/signals').Signal<'off' | 'looking' | 'here' | 'denied' | 'none'>}
 */
export const fixState = signal(/** @type {any} */ ('off'));

/** @type {{atMs: number, position: Position} | undefined} */
let last;
/** @type {import('../../data/finding.js').Waiting[]} */
let waiting = [];
/** @type {number | undefined} */
let watching;
/** @type {number | undefined} */
let giveUp;
let begun = false;

/** Reads what was chosen and goes on with what waited; call when the Shore is opened. */
export async function beginPositions() {
  if (begun) return;
  begun = true;
  const [choice, left] = await Promise.all([keptPositions(), keptWaiting()]);
  wanted.value ??= choice ?? false;
  waiting = [...(left ?? []), ...waiting];
  settle();
  effect(() => (wanted.value && underWay.value ? watch() : stop()));
}

/** @param {boolean} is */
export function want(is) {
  wanted.value = is;
  keepPositions(is);
}

function watch() {
  if (watching !== undefined) return;
  if (!('geolocation' in navigator)) return void (fixState.value = 'denied');
  fixState.value = 'looking';
  watching = navigator.geolocation.watchPosition(heard, refused, { enableHighAccuracy: true, maximumAge: FRESH_MS / 2 });
}

function stop() {
  if (watching !== undefined) navigator.geolocation.clearWatch(watching);
  watching = undefined;
  last = undefined;
  fixState.value = 'off';
}

/** @param {GeolocationPosition} found */
function heard({ coords, timestamp }) {
  const round = (/** @type {number} */ x, /** @type {number} */ n) => Math.round(x * n) / n;
  // Six decimals are a tenth of a metre, finer than any phone.
  last = {
    atMs: timestamp,
    position: { lat: round(coords.latitude, 1e6), lon: round(coords.longitude, 1e6), accuracyM: Number.isFinite(coords.accuracy) ? Math.min(100_000, Math.ceil(coords.accuracy)) : null },
  };
  fixState.value = 'here';
  settle();
}

/** @param {GeolocationPositionError} error */
function refused(error) {
  const denied = error.code === error.PERMISSION_DENIED;
  fixState.value = denied ? 'denied' : 'none';
  if (denied) settle(true);
}

/** What is known of the position at the moment a find is logged; undefined if a fix may still come, null if none was wanted. */
export function positionNow() {
  if (!wanted.peek() || !underWay.peek()) return null;
  if (fixState.peek() === 'denied') return 'noFix';
  return last && Date.now() - last.atMs <= FRESH_MS ? last.position : undefined;
}

/**
 * A find that was logged without a position may still get one.
 * @param {string} id
 * @param {number} atMs when it was logged
 */
export function awaitFix(id, atMs) {
  waiting.push({ id, atMs });
  keepWaiting(waiting);
  settle();
}

/**
 * Gives the finds that wait what has come, and closes those whose time is over.
 * @param {boolean} [denied]
 */
function settle(denied) {
  clearTimeout(giveUp);
  const now = Date.now();
  /** @type {typeof waiting} */
  const open = [];
  for (const one of waiting) {
    const fits = last && last.atMs >= one.atMs - FRESH_MS && last.atMs <= one.atMs + WITHIN_MS;
    if (fits && last) setFind(one.id, { position: last.position });
    else if (denied || now - one.atMs > WITHIN_MS || one.atMs - now > WITHIN_MS) setFind(one.id, { position: 'noFix' });
    else open.push(one);
  }
  if (open.length !== waiting.length) keepWaiting(open);
  waiting = open;
  if (open.length > 0) giveUp = setTimeout(settle, Math.max(0, open[0].atMs + WITHIN_MS - now) + 1000);
}
