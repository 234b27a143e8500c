// An imagined find as typed, and as it is asked about. Nothing here but data.

import { instantOn, rfc3339 } from '../shore/outing-times.js';
import { read } from './measures.js';
import { isDay } from './days.js';
import { rules } from '../../text/en-rules.js';

/**
 * @typedef {object} TryWritten
 * @property {string} shore id
 * @property {string} taxon
 * @property {string} group
 * @property {string} state '' where it is not said
 * @property {string} value
 * @property {string} unit
 * @property {string} massG
 * @property {string} weighed
 * @property {string} sizeMm
 * @property {string} axis
 * @property {string} by id of a member
 * @property {string} day
 * @property {string} time
 * @property {string} purpose
 * @property {string} share in per cent
 * @property {string} gear words with commas between
 * @property {string} use
 * @property {string} substrate
 */

/** @returns {TryWritten} */
export const newTry = () => ({ shore: '', taxon: '', group: '', state: '', value: '1', unit: 'count', massG: '', weighed: 'wet', sizeMm: '', axis: 'shell', by: '', day: '', time: '', purpose: 'home', share: '', gear: '', use: '', substrate: '' });

/**
 * @param {TryWritten} w @param {'gear' | 'use' | 'substrate'} field
 * @returns {Record<string, string[]>} nothing where nothing is said; an empty list for "nothing"
 */
function listed(w, field) {
  const list = w[field].split(',').map((one) => one.trim()).filter(Boolean);
  if (list.length === 0) return {};
  return { [field]: list.length === 1 && list[0].toLowerCase() === rules.try_.nothing ? [] : list };
}

/**
 * What is asked about, or what is wrong with it by the id of its control.
 * @param {TryWritten} w
 * @param {string} zone of the shore
 * @returns {{find?: Record<string, any>, wrong: Record<string, string>}}
 */
export function tried(w, zone) {
  const t = rules.try_;
  /** @type {Record<string, string>} */
  const wrong = {};
  if (!w.taxon) wrong['try-kind'] = t.needKind;
  const amount = w.value.trim() === '' ? null : read(w.value, w.unit === 'count' ? '' : w.unit, w.unit);
  if (amount === undefined) wrong['try-amount'] = w.unit === 'count' ? rules.need.whole : t.needNumber;
  /** @param {'massG' | 'sizeMm'} name @param {'g' | 'mm'} unit */
  const more = (name, unit) => {
    const value = w[name].trim() === '' ? null : read(w[name], unit, unit);
    if (value === undefined) wrong[`try-${name}`] = t.needNumber;
    return value ?? null;
  };
  const [g, mm] = [more('massG', 'g'), more('sizeMm', 'mm')];
  const part = w.share.trim() === '' ? null : read(w.share, '%', 'share');
  if (part === undefined || (part !== null && part > 1)) wrong['try-share'] = rules.need.percent;
  if (!isDay(w.day) || !/^\d\d:\d\d$/.test(w.time)) wrong['try-day'] = t.needWhen;
  if (Object.keys(wrong).length > 0) return { wrong };
  return {
    wrong,
    find: {
      at: rfc3339(instantOn(w.day, w.time, zone)), by: w.by || null, taxon: w.taxon, group: w.group, state: w.state,
      amount: amount == null ? null : { value: amount, unit: w.unit }, mass: g === null ? null : { g, weighed: w.weighed }, size: mm === null ? null : { mm, axis: w.axis },
      ...(part == null ? {} : { share: { part } }), ...listed(w, 'gear'), ...listed(w, 'use'), ...listed(w, 'substrate'),
    },
  };
}
