// The form of a find as text and as fields of its record. Nothing here but data.

import { amountAsked, amountOf } from './amount.js';
import { photoFields } from './find.js';
import { askedOfFind } from './verdict-ask.js';
import { text } from '../../text/en.js';

/** @typedef {import('./find.js').Find} Find */

/**
 * @typedef {object} Said numbers as typed
 * @property {string} taxon
 * @property {string} group
 * @property {import('./find.js').State | ''} state
 * @property {string} value
 * @property {import('./find.js').Unit} unit
 * @property {'seen' | 'taken'} fate
 * @property {string | null} by
 * @property {string[]} photos
 * @property {string} scale
 * @property {string} candidates one a line
 * @property {string} height
 * @property {string} habitat
 * @property {string} container
 * @property {string} note
 */

/** @typedef {Said & Facts} Written */

/**
 * What rules may ask of a find, as it is typed; words are null where nobody has said.
 * @typedef {object} Facts
 * @property {string} sizeMm
 * @property {string} axis
 * @property {string} massG
 * @property {string} weighed
 * @property {string} share per cent
 * @property {string[] | null | undefined} gear
 * @property {string[] | null | undefined} use
 * @property {string[] | null | undefined} substrate
 */

/** @type {Facts} */
export const noFacts = { sizeMm: '', axis: '', massG: '', weighed: '', share: '', gear: null, use: null, substrate: null };

/**
 * The facts as fields, null what is not said, or what is wrong by the id of its control.
 * @param {Facts} w
 */
export function factsOf(w) {
  /** @type {Record<string, string>} */
  const wrong = {};
  /** @param {'sizeMm' | 'massG' | 'share'} name @param {number} most */
  const number = (name, most) => {
    if (w[name].trim() === '') return null;
    const value = amountOf(w[name], 'g');
    if (value === undefined || value > most) wrong[name] = text.oneFind.need;
    return value ?? null;
  };
  const [mm, g, percent] = [number('sizeMm', MOST_MM), number('massG', MOST_G), number('share', 100)];
  return {
    wrong,
    fields: {
      size: mm === null ? null : { mm, axis: w.axis || 'length' }, mass: g === null ? null : { g, weighed: w.weighed || 'wet' },
      share: percent === null ? null : { part: percent / 100, how: 'eye' }, gear: w.gear ?? null, use: w.use ?? null, substrate: w.substrate ?? null,
    },
  };
}

/** Characters, as internal/book has it. */
export const MOST = { habitat: 300, container: 60, note: 2000, scale: 60 };
const MOST_MM = 10_000;
const MOST_G = 100_000;

/** @param {Find} find @returns {Written} */
export function writtenOf({ fields, state, amount, fate, by, photos, first }) {
  return {
    taxon: first, group: fields.group ?? 'unsure', state, value: amount ? String(amount.value) : '', unit: amount?.unit ?? 'count', fate: fate || 'seen', by, photos,
    scale: fields.scale ?? '', candidates: (fields.candidates ?? []).join('\n'), height: fields.height ?? '', habitat: fields.habitat ?? '', container: fields.container ?? '',
    share: fields.share ? String(Math.round(fields.share.part * 10_000) / 100) : '', gear: fields.gear, use: fields.use, substrate: fields.substrate,
    sizeMm: fields.size ? String(fields.size.mm) : '', axis: fields.size?.axis ?? '', massG: fields.mass ? String(fields.mass.g) : '', weighed: fields.mass?.weighed ?? '', note: fields.note ?? '',
  };
}

/**
 * What the form says, as fields, or what is wrong by the id of its control.
 * @param {Written} w
 * @returns {{fields?: Record<string, any>, wrong: Record<string, string>}}
 */
export function read(w) {
  const { wrong, fields: facts } = factsOf(w);
  const amount = w.value.trim() === '' ? null : amountOf(w.value, w.unit);
  if (amount === undefined) wrong.amount = text.log.needAmount;
  for (const [name, most] of /** @type {[keyof typeof MOST, number][]} */ (Object.entries(MOST))) {
    if (Array.from(w[name].trim()).length > most) wrong[name] = text.photo.tooLong(most);
  }
  const { names, wrong: names_ } = namesOf(w.candidates);
  if (names_) wrong.candidates = names_;
  if (Object.keys(wrong).length > 0) return { wrong };
  const or = (/** @type {string} */ words) => words.trim() || null;
  return {
    wrong,
    fields: {
      taxon: w.taxon, group: w.group, ...(w.state ? { state: w.state } : {}), amount: amount === null ? null : { value: amount, unit: w.unit }, fate: w.fate, by: w.by,
      scale: or(w.scale), candidates: names.length > 0 ? names : null, ...(w.height ? { height: w.height } : {}), habitat: w.habitat.trim(), container: or(w.container),
      ...facts, note: w.note.trim(), photos: w.photos,
    },
  };
}

/**
 * What the rules are asked of a find as it stands in the form. A later name counts before
 * the one that it was logged with, which the form changes.
 * @param {Find} find
 * @param {Written} w
 */
export function askedOf(find, w) {
  const named = find.identified.length > 0;
  const { taxon, group } = named ? find : w;
  const { share, ...facts } = factsOf(w).fields;
  return {
    ...askedOfFind(find), taxon, group, by: w.by, state: w.state, amount: amountAsked(w.value, w.unit), container: w.container.trim(), ...facts,
    share: w.share === writtenOf(find).share ? find.fields.share : share, // an estimate keeps the most that it may be
  };
}

/**
 * What differs from what the form started with, as fields of a change.
 * @param {Find} find
 * @param {Written} before
 * @param {Record<string, any>} fields
 */
export function changesOf(find, before, fields) {
  const was = read(before).fields ?? {};
  /** @type {Record<string, any>} */
  const changes = {};
  for (const [name, value] of Object.entries(fields)) {
    if (name !== 'photos' && JSON.stringify(value) !== JSON.stringify(was[name])) changes[name] = value;
  }
  const gone = find.photos.filter((sha) => !fields.photos.includes(sha));
  const come = fields.photos.filter((/** @type {string} */ sha) => !find.photos.includes(sha));
  return { ...changes, ...photoFields(come), ...Object.fromEntries(gone.map((sha) => [`photos/${sha}`, null])) };
}

/** As internal/book has it: names, and characters of each. */
const MOST_NAMES = 6;
const MOST_NAME = 120;

/**
 * @param {string} written one a line
 * @returns {{names: string[], wrong: string}}
 */
export function namesOf(written) {
  const names = [...new Set(written.split('\n').map((name) => name.trim()).filter(Boolean))];
  const wrong = names.length > MOST_NAMES ? text.photo.tooMany : names.some((name) => Array.from(name).length > MOST_NAME) ? text.photo.tooLong(MOST_NAME) : '';
  return { names, wrong };
}
