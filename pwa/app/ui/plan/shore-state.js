// The household's shores and the one that Plan is for.

import { computed, signal } from '@preact/signals';
import { bookShores, keepChosen, keepShore, keptChosen, shoreOf, shoresRead } from '../../data/shores.js';
import { persist } from '../../data/persist.js';
import { localDay } from '../parts/when.js';

/** @typedef {import('../../data/shore-record.js').Shore} Shore */

const every = computed(() => bookShores.value.map(shoreOf));
const chosen = signal(/** @type {string | undefined} */ (undefined));

/** Whether what was kept has been read. */
export const recalled = signal(false);
/** The last save that this phone has refused to keep, if any. */
export const unkept = signal(/** @type {Shore | undefined} */ (undefined));

export const shores = computed(() => every.value.filter((shore) => !shore.deleted).sort((a, b) => a.name.localeCompare(b.name)));
/** Deleted ones, which can be brought back. */
export const deleted = computed(() => every.value.filter((shore) => shore.deleted));
/** The chosen shore. */
export const shore = computed(() => shores.value.find((one) => one.id === chosen.value) ?? shores.value[0]);

/**
 * Why the chosen shore must be asked about before a window is shown again: its heights
 * were set with another release of the list of stations than this app brings, so its
 * station may be gone or count from another datum. was is '' where nobody knows.
 * @typedef {{was: string, is: string}} Doubt
 */

export const doubt = computed(() => {
  const at = shore.value;
  return at && at.release !== CATALOGUE_RELEASE ? { was: at.release, is: CATALOGUE_RELEASE } : undefined;
});

/** Reads the shores that were kept. */
export async function recallShores() {
  const [id] = await Promise.all([keptChosen(), shoresRead()]);
  chosen.value ??= id;
  recalled.value = true;
}

/** @param {string} id */
export function select(id) {
  chosen.value = id;
  return keepChosen(id);
}

/**
 * Saves a shore: on the phone first, then on the screen, so that what is shown is kept.
 * Where the phone refuses, it is on the screen alone, and unkept says so.
 * @param {Shore} next
 * @param {Shore} [before] what the change started from; none for a new shore
 */
export async function save(next, before) {
  const kept = await keepShore(next, before);
  unkept.value = kept ? undefined : next;
  if (kept) persist();
}

/** @param {Shore} one */
export const remove = (one) => save({ ...one, deleted: true }, one);
/** @param {Shore} one */
export const bringBack = (one) => save({ ...one, deleted: false }, one);

/**
 * The shore of the core's requests for windows and levels.
 * @param {Shore} of
 */
export function shoreRequest({ station, differences, below, wayOff, cutOff, margin, walkOut, travel, lat, lon, zone }) {
  return {
    station, below, ...(wayOff === null ? {} : { wayOff }), cutOff, margin, walkOut, travel, lat, lon, zone,
    ...(differences ? { differences } : {}),
  };
}

/**
 * What the core's tides and heights need of a shore.
 * @param {Shore} of
 */
export function waterRequest({ station, differences, zone }) {
  return { station, zone, ...(differences ? { differences } : {}) };
}

/**
 * The shore's own day, YYYY-MM-DD.
 * @param {Shore} of
 */
export const today = (of) => localDay(Date.now(), of.zone);
