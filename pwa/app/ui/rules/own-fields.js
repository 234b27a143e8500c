// A rule of the household's own: what somebody filled in, and the one rule of its set. Nothing
// here but data.

import { read, written } from './measures.js';
import { ownRules as t } from '../../text/en-rule-form.js';

/** @typedef {'share' | 'rest' | 'care' | 'holdfast' | 'number' | 'never'} OwnKind */
/** @typedef {{kind: OwnKind | '', n: string, all: boolean, taxa: string[], groups: string[], name: string}} OwnWritten */

export const OWN = /** @type {OwnKind[]} */ (['share', 'rest', 'care', 'holdfast', 'number', 'never']);
/** Kinds of such rules that may be about everything, and those that are at first. */
export const MAY_ALL = ['share', 'rest', 'care', 'number'];

/** @returns {OwnWritten} */
export const newOwn = () => ({ kind: '', n: '', all: false, taxa: [], groups: [], name: '' });

/**
 * What a kind of rule begins with.
 * @param {OwnKind} kind
 * @returns {Partial<OwnWritten>}
 */
export const begun = (kind) => ({ kind, n: '', all: kind === 'rest', taxa: [], groups: kind === 'share' || kind === 'holdfast' ? ['algae'] : [] });

const MOST_DAYS = 3660;
const MOST_NAME = 60;

/**
 * @param {OwnWritten} w
 * @returns {{rule: Record<string, any>, name: string, wrong: Record<string, string>}}
 */
export function toOwn(w) {
  /** @type {Record<string, string>} */
  const wrong = {};
  const n = w.n.trim();
  /** @type {Record<string, any>} */
  const rule = { of: w.all ? { all: true } : { ...(w.taxa.length > 0 ? { taxa: w.taxa } : {}), ...(w.groups.length > 0 ? { groups: w.groups } : {}) } };
  if (!w.kind) wrong['own-kind'] = t.need.kind;
  else if (!w.all && w.taxa.length + w.groups.length === 0) wrong['kind-search'] = t.of;
  const whole = /^\d{1,6}$/.test(n) ? Number(n) : undefined;
  const limit = (/** @type {object} */ more) => {
    if (whole === undefined) wrong['own-n'] = t.need.number;
    rule.limits = [{ most: whole ?? 0, unit: 'count', base: 'household', ...more }];
  };
  const share = read(n, '%', 'share');
  if (w.kind === 'share') {
    if (share === undefined || share <= 0 || share > 1) wrong['own-n'] = t.need.percent;
    rule.limits = [{ most: share ?? 0, unit: 'share', base: 'household', per: 'day', each: 'taxon' }];
  } else if (w.kind === 'rest') {
    if (whole === undefined || whole < 1 || whole > MOST_DAYS) wrong['own-n'] = t.need.days;
    rule.rest = whole ?? 0;
  } else if (w.kind === 'care') limit({ per: 'possession' });
  else if (w.kind === 'number') limit({ per: 'day' });
  else if (w.kind === 'never') rule.take = 'forbidden';
  else if (w.kind === 'holdfast') {
    if (n && (share === undefined || share <= 0 || share > 1)) wrong['own-n'] = t.need.percent;
    rule.cut = { above: 'holdfast', ...(n && share ? { leavePart: share } : {}) };
  }
  const name = w.name.trim() || (w.kind ? t.names[w.kind](n.replace(/[./[\]]/g, ',').slice(0, 12)) : '');
  if (Array.from(name).length > MOST_NAME || /[./[\]]/.test(name)) wrong['own-name'] = t.need.name;
  return { rule, name, wrong };
}

/**
 * A set as the short form shows it; undefined for one that it cannot say.
 * @param {Record<string, any>} document
 * @returns {OwnWritten | undefined}
 */
export function ofOwn(document) {
  const all = Object.entries(document.rules ?? {});
  if (all.length !== 1) return undefined;
  const [name, rule] = all[0];
  const { limits, rest, take, cut } = rule;
  const limit = limits?.[0];
  const kind = rest ? 'rest' : cut ? 'holdfast' : take ? 'never' : limit?.unit === 'share' ? 'share' : limit?.per === 'possession' ? 'care' : limit ? 'number' : '';
  const n = rest ? String(rest) : limit ? (limit.unit === 'share' ? written(limit.most, 'share').written : String(limit.most)) : cut?.leavePart ? written(cut.leavePart, 'share').written : '';
  /** @type {OwnWritten} */
  const w = { kind, n, all: Boolean(rule.of?.all), taxa: rule.of?.taxa ?? [], groups: rule.of?.groups ?? [], name };
  // Only what comes out of the form as it went in.
  return JSON.stringify(sorted(toOwn(w).rule)) === JSON.stringify(sorted(rule)) && document.area?.everywhere && !document.from && !document.to && !document.note ? w : undefined;
}

/**
 * With its keys in order, at every depth: what the core has folded may have them in another.
 * @param {any} value
 * @returns {any}
 */
export const sorted = (value) => (Array.isArray(value) ? value.map(sorted) : value && typeof value === 'object' ? Object.fromEntries(Object.keys(value).sort().map((key) => [key, sorted(value[key])])) : value);

/**
 * The set of one rule.
 * @param {string} name
 * @param {Record<string, any>} rule
 * @param {string} today
 * @param {string} household its name
 */
export const ownDocument = (name, rule, today, household) => ({
  form: 1, name, layer: 'household', authority: household || t.household, ask: t.asks, source: t.source, sourceDate: today, area: { place: t.place, everywhere: true }, rules: { [name]: rule },
});
