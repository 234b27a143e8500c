// The household's own record: its country, the numbers it calls, what holds for its outings.

import { computed } from '@preact/signals';
import { records, write } from './book.js';

/** The id of the one record, as internal/book has it. */
export const HOUSEHOLD = '00000000-0000-7000-8000-000000000001';

/** How long after due back those ashore call for help, where the household has set nothing, minutes. Common practice. */
export const GRACE_MIN = 30;

/** @typedef {{id: string, what: string, number: string, note: string}} EmergencyNumber */

/**
 * @typedef {object} Household
 * @property {string} name '' if it has none
 * @property {string} country two letters (ISO 3166-1), '' if it has said none
 * @property {EmergencyNumber[]} numbers in the order in which they were written
 * @property {number} graceMin minutes
 * @property {{closure: number, text: number} | null} staleDays for how long a check of rules counts; null where the household has set nothing
 * @property {boolean | undefined} childrenAtNight undefined where the household has not said
 */

/**
 * @param {Record<string, any>} fields
 * @returns {Household}
 */
export function householdOf(fields) {
  return {
    name: fields.name ?? '',
    country: String(fields.country ?? '').toUpperCase(),
    numbers: Object.entries(fields).filter(([field, value]) => field.startsWith('emergency/') && value)
      .map(([field, { what, number, note }]) => ({ id: field.slice('emergency/'.length), what, number, note: note ?? '' }))
      .sort((a, b) => (a.id < b.id ? -1 : 1)),
    graceMin: fields.graceMin ?? GRACE_MIN,
    staleDays: fields.staleDays ?? null,
    childrenAtNight: fields.childrenAtNight,
  };
}

/** Its fields as the book has them; {} where nothing was set. */
export const householdFields = computed(() => /** @type {Record<string, any>} */ (records('household').value.find(({ id, deleted }) => id === HOUSEHOLD && !deleted)?.fields ?? {}));

export const household = computed(() => householdOf(householdFields.value));

/** @param {Record<string, any>} fields */
export const setHousehold = (fields) => write('household', HOUSEHOLD, fields);
