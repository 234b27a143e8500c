// The kinds that a find can be: the starting list, and what a household has named itself.

import { computed, signal } from '@preact/signals';
import { call } from '../../core.js';
import { records } from '../../data/book.js';
import { record } from '../../data/errors.js';
import { keepKinds, keptKinds } from '../../data/kinds.js';
import { text } from '../../text/en.js';
import { UNSURE } from './kind-search.js';

export { UNSURE, search } from './kind-search.js';

/** @typedef {import('../../data/kinds.js').Taxon} Taxon */
/** @typedef {import('../../data/kinds.js').Kinds} Kinds */

/** The starting list; undefined until it is read. */
export const kinds = signal(/** @type {Kinds | undefined} */ (undefined));

const byName = computed(() => new Map(kinds.value?.taxa.map((taxon) => [taxon.name.toLowerCase(), taxon])));

/** @param {string} name scientific */
export const taxonNamed = (name) => byName.value.get(name.toLowerCase());

/**
 * What a kind is flagged with: its own flags, or those of its genus where the list has no such species.
 * @param {string} name scientific
 */
export const flagsNamed = (name) => taxonNamed(name) ?? taxonNamed(name.split(' ')[0]);

/**
 * Regions in words.
 * @param {string[]} codes
 */
export const regionNames = (codes) => codes.map((code) => kinds.value?.regions[code] ?? code).join(', ');

/**
 * What people call it: "Sea lettuce", "Unsure", or the name as it was written.
 * @param {string} name
 */
export function called(name) {
  if (name === UNSURE) return text.kinds.unsure;
  const common = taxonNamed(name)?.common;
  return common ? common[0].toUpperCase() + common.slice(1) : name;
}

/** @param {string} [group] id */
export const groupName = (group) => kinds.value?.groups.find(({ id }) => id === group)?.name ?? '';

/**
 * The kinds that the household has named itself: every name that it gave a find and that is
 * not on the starting list, with the group it was last put in.
 */
export const ownKinds = computed(() => {
  /** @type {Map<string, string>} */
  const own = new Map();
  for (const { fields, deleted } of records('find').value) {
    if (deleted) continue;
    note(own, fields.taxon, fields.group);
    for (const [name, value] of Object.entries(fields)) if (value && name.startsWith('identified/')) note(own, value.taxon, value.group);
  }
  return [...own].map(([name, group]) => ({ name, common: '', group, regions: [], hurts: false, controlled: false, invasive: null }))
    .sort((a, b) => a.name.localeCompare(b.name));
});

/** @param {Map<string, string>} own @param {string | undefined} name @param {string | undefined} group */
function note(own, name, group) {
  if (name && name !== UNSURE && !taxonNamed(name)) own.set(name, group ?? UNSURE);
}

/** @type {Promise<void> | undefined} */
let recalling;

/** Reads the list that the phone keeps, and the core's where this version has not asked yet. */
export function recallKinds() {
  recalling ??= recall().catch((error) => {
    recalling = undefined; // the next page asks again
    record(`the list of kinds: ${error}`);
  });
  return recalling;
}

async function recall() {
  const kept = await keptKinds();
  if (kept) kinds.value = kept.kinds;
  if (kept?.build === BUILD) return;
  const now = await call('taxa', {});
  kinds.value = now;
  await keepKinds(now, BUILD);
}
