// The rule sets that are on file, and what is written of them.

import { computed } from '@preact/signals';
import { records, write } from '../../data/book.js';
import { me, meRead } from '../../data/door.js';
import { household, setHousehold } from '../../data/household.js';
import { shoresOf } from '../../data/rules-ask.js';
import { shoreOf } from '../../data/shores.js';
import { now } from '../parts/now.js';
import { localDay } from '../parts/when.js';
import { COUNTS, ageOf } from './days.js';

/** @typedef {Record<string, any>} Document a set as internal/take/FORM.md has it */
/** @typedef {{id: string, document: Document, checked: {on: string, by: string} | null, shores: string[] | null, elsewhere?: string[] | null}} OnFile elsewhere: shores that are said to lie outside */

/** @param {string[]} roles */
const isOneOf = (roles) => computed(() => meRead.value && (!me.value || roles.includes(me.value.device.role)));
/** Whether this phone brings in and writes rules. A phone that is alone is its own keeper. */
export const mayWrite = isOneOf(['keeper', 'collector']);
export const isKeeper = isOneOf(['keeper']);

/** By name; a document that is none has an empty one. */
export const sets = computed(() => records('ruleset').value.filter((one) => !one.deleted && one.fields.document)
  .map(({ id, fields }) => /** @type {OnFile} */ ({ id, document: fields.document, checked: fields.checked ?? null, shores: shoresOf(fields), elsewhere: shoresOf(fields, false) }))
  .sort((a, b) => nameOf(a).localeCompare(nameOf(b)) || (a.id < b.id ? -1 : 1)));

/** @param {string} [id] */
export const setNamed = (id) => sets.value.find((one) => one.id === id);

/** @param {{document: Document}} of */
export const nameOf = ({ document }) => String(document.name ?? '');
/** @param {{document: Document}} of */
export const isOwn = ({ document }) => document.layer === 'household';
/** @param {{document: Document}} of */
export const rulesOf = ({ document }) => /** @type {[string, any][]} */ (Object.entries(document.rules ?? {})).sort(([a], [b]) => a.localeCompare(b));

/** The household's shores, by name. */
export const shores = computed(() => records('shore').value.filter(({ deleted }) => !deleted).map(shoreOf).sort((a, b) => a.name.localeCompare(b.name)));

/** Today on this phone's clock. */
export const today = computed(() => localDay(now.value, Intl.DateTimeFormat().resolvedOptions().timeZone ?? 'UTC'));

/** For how many days a check counts. */
export const counts = computed(() => ({ ...COUNTS, ...household.value.staleDays }));
/** @param {{text: number, closure: number}} of */
export const setCounts = (of) => setHousehold({ staleDays: of });

/** @param {OnFile} of */
export const age = ({ document, checked }) => ageOf({ layer: document.layer, checked, today: today.value, counts: counts.value });

/**
 * Which shores a set is for, as fields: every shore is said to be in it or not.
 * @param {string[]} chosen
 */
export const shoreFields = (chosen) => Object.fromEntries(shores.peek().map(({ id }) => [`shores/${id}`, chosen.includes(id)]));

/** @param {string} id @param {Record<string, any>} fields */
export const setRules = (id, fields) => write('ruleset', id, fields);

/**
 * The set on file that a document would stand beside: of the same name and authority.
 * @param {Document} document
 */
export const sameAs = (document) => sets.peek().find((one) => nameOf(one).trim().toLowerCase() === String(document.name).trim().toLowerCase()
  && String(one.document.authority).trim().toLowerCase() === String(document.authority).trim().toLowerCase());
