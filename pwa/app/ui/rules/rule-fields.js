// The form of one rule as somebody fills it in, and the rule that it says. What the form has no
// question for stays in the rule as it was (rule-shown.js). Nothing here but data.

import { read as readMeasure } from './measures.js';
import { rules as t } from '../../text/en-rules.js';

/** @typedef {Record<string, any>} Rule */
/** @typedef {{most: string, unit: string, as: string, weighed: string, base: string, per: string, days: string, each: boolean, who: string, putBackFree: boolean, keepFirst: boolean, or?: any}} LimitWritten */
/** @typedef {{axis: string, least: string, most: string, as: string}} SizeWritten */
/** @typedef {{how: 'dates' | 'months', from: string, to: string, months: number[]}} SpanWritten */
/**
 * @typedef {object} RuleWritten what is typed is text; '' is not said
 * @property {string} name
 * @property {{all: boolean, rest: boolean, taxa: string[], groups: string[], states: string[], exceptTaxa: string[], exceptGroups: string[]}} of
 * @property {'allowed' | 'forbidden' | 'silent' | ''} take
 * @property {string[]} asked which questions the notice answers
 * @property {LimitWritten[]} limits
 * @property {SizeWritten[]} sizes
 * @property {{is: 'open' | 'closed', spans: SpanWritten[]}} season
 * @property {{sun: boolean, from: string, to: string}} hours
 * @property {{only: string, never: string}} gear one a line
 * @property {{only: string, never: string}} use
 * @property {{leave: string, as: string, above: string, part: string, notTorn: boolean}} cut
 * @property {{licence: string, consent: string, ageFrom: string, ageTo: string, above?: any}} person
 * @property {{do: string, ask: string}[]} duties
 * @property {string} back demanded, allowed, forbidden
 * @property {string} note
 * @property {Rule} kept parts that the form has no question for
 */

/** The questions, in the order in which they stand. */
export const QUESTIONS = /** @type {const} */ (['limits', 'sizes', 'season', 'hours', 'gear', 'cut', 'use', 'person', 'return', 'duties', 'note']);

/** @returns {LimitWritten} */
export const newLimit = () => ({ most: '', unit: 'count', as: '', weighed: '', base: 'person', per: 'day', days: '', each: false, who: '', putBackFree: false, keepFirst: false });
/** @param {string} axis @returns {SizeWritten} */
export const newSize = (axis = 'shell') => ({ axis, least: '', most: '', as: 'mm' });
/** @returns {SpanWritten} */
export const newSpan = () => ({ how: 'months', from: '', to: '', months: [] });

/** @returns {RuleWritten} */
export const newRule = () => ({
  name: '', of: { all: false, rest: false, taxa: [], groups: [], states: [], exceptTaxa: [], exceptGroups: [] }, take: '', asked: [],
  limits: [newLimit()], sizes: [newSize()], season: { is: 'closed', spans: [newSpan()] }, hours: { sun: true, from: '', to: '' },
  gear: { only: '', never: '' }, use: { only: '', never: '' }, cut: { leave: '', as: 'cm', above: 'holdfast', part: '', notTorn: false },
  person: { licence: '', consent: '', ageFrom: '', ageTo: '' }, duties: [{ do: '', ask: '' }], back: '', note: '', kept: {},
});

/**
 * One a line: a word may have a comma in it.
 * @param {string} lines
 */
const listOf = (lines) => [...new Set(lines.split('\n').map((one) => one.trim()).filter(Boolean))];

/**
 * The rule that the form says, or what is wrong with it by the id of its control.
 * @param {RuleWritten} w
 * @returns {{rule: Rule, wrong: Record<string, string>}}
 */
export function toRule(w) {
  /** @type {Record<string, string>} */
  const wrong = {};
  /** @type {Rule} */
  const rule = { of: ofWhat(w, wrong), ...w.kept };
  if (w.take === '') wrong.take = t.need.take;
  else if (w.take !== 'silent') rule.take = w.take;
  const has = (/** @type {string} */ question) => w.asked.includes(question) && !(question in w.kept);
  // A limit that stays empty is none, unless it is the only one.
  if (has('limits')) rule.limits = w.limits.map((one, i) => ({ one, i })).filter(({ one, i }) => one.most.trim() || i === 0).map(({ one, i }) => toLimit(one, `limits${i}`, wrong));
  if (has('sizes')) rule.sizes = w.sizes.map((one, i) => toSize(one, `sizes${i}`, wrong));
  if (has('season')) rule.season = { [w.season.is]: w.season.spans.map((one, i) => toSpan(one, `season${i}`, wrong)) };
  if (has('hours')) {
    rule.hours = w.hours.sun ? { from: 'sunrise', to: 'sunset' } : { from: w.hours.from, to: w.hours.to };
    if (!w.hours.sun && !(w.hours.from && w.hours.to)) wrong['hours-from'] = t.need.hours;
  }
  for (const part of /** @type {const} */ (['gear', 'use'])) {
    if (!has(part)) continue;
    const [only, never] = [listOf(w[part].only), listOf(w[part].never)];
    if (only.length + never.length === 0) wrong[`${part}-only`] = t.need.list;
    rule[part] = { ...(only.length > 0 ? { only } : {}), ...(never.length > 0 ? { never } : {}) };
  }
  if (has('cut')) rule.cut = toCut(w, wrong);
  if (has('person')) rule.person = toPerson(w, wrong);
  if (has('duties')) {
    const told = w.duties.filter((one) => one.do.trim() || one.ask.trim());
    if (told.length === 0 || told.some((one) => !one.do.trim())) wrong['duties0-do'] = t.need.duty;
    rule.duties = told.map((one) => ({ do: one.do.trim(), ...(one.ask.trim() ? { ask: one.ask.trim() } : {}) }));
  }
  if (has('return')) {
    if (!w.back) wrong.return = t.need.back;
    rule.return = w.back;
  }
  if (has('note')) {
    if (!w.note.trim()) wrong.note = t.need.words;
    rule.note = w.note.trim();
  }
  const says = Object.keys(rule).filter((part) => !['of', 'note', 'where', 'during', 'unless'].includes(part));
  if (says.length === 0 && Object.keys(wrong).length === 0) wrong.take = t.need.says;
  return { rule, wrong };
}

/** @param {RuleWritten} w @param {Record<string, string>} wrong */
function ofWhat({ of }, wrong) {
  const list = (/** @type {string} */ name, /** @type {string[]} */ all) => (all.length > 0 ? { [name]: all } : {});
  if (!of.all && !of.rest && of.taxa.length + of.groups.length === 0) wrong['kind-search'] = t.need.kinds;
  const named = of.all ? {} : { ...(of.rest ? { rest: true } : {}), ...list('taxa', of.taxa), ...list('groups', of.groups) };
  const except = { ...list('taxa', of.exceptTaxa), ...list('groups', of.exceptGroups) };
  return { ...(of.all ? { all: true } : {}), ...named, ...(Object.keys(except).length > 0 ? { except } : {}), ...list('states', of.states) };
}

/** @param {LimitWritten} l @param {string} id @param {Record<string, string>} wrong */
function toLimit(l, id, wrong) {
  const most = readMeasure(l.most, l.as, l.unit);
  if (most === undefined) wrong[`${id}-most`] = l.unit === 'count' || l.unit === 'containers' ? t.need.whole : t.need.number;
  const days = Number(l.days);
  if (l.per === 'days' && !(/^\d{1,3}$/.test(l.days.trim()) && days >= 2 && days <= 366)) wrong[`${id}-days`] = t.need.days;
  return {
    most: most ?? 0, unit: l.unit, ...(l.weighed && l.unit === 'g' ? { weighed: l.weighed } : {}), base: l.base, per: l.per, ...(l.per === 'days' ? { days } : {}), ...(l.each ? { each: 'taxon' } : {}),
    ...(l.who && l.base === 'person' ? { who: l.who } : {}), ...(l.putBackFree && !l.keepFirst ? { putBack: 'free' } : {}), ...(l.keepFirst ? { keepFirst: true } : {}), ...(l.or ? { or: l.or } : {}),
  };
}

/** @param {SizeWritten} z @param {string} id @param {Record<string, string>} wrong */
function toSize(z, id, wrong) {
  const number = (/** @type {'least' | 'most'} */ which) => {
    if (z[which].trim() === '') return undefined;
    const mm = readMeasure(z[which], z.as, 'mm');
    if (mm === undefined) wrong[`${id}-${which}`] = t.need.number;
    return mm;
  };
  const [leastMm, mostMm] = [number('least'), number('most')];
  if (z.least.trim() === '' && z.most.trim() === '') wrong[`${id}-least`] = t.need.size;
  else if (leastMm !== undefined && mostMm !== undefined && leastMm > mostMm) wrong[`${id}-most`] = t.need.slot;
  return { axis: z.axis, ...(leastMm !== undefined ? { leastMm } : {}), ...(mostMm !== undefined ? { mostMm } : {}) };
}

/** @param {SpanWritten} span @param {string} id @param {Record<string, string>} wrong */
function toSpan(span, id, wrong) {
  if (span.how === 'months') {
    if (span.months.length === 0) wrong[`${id}-months`] = t.need.months;
    return { months: [...span.months].sort((a, b) => a - b) };
  }
  for (const end of /** @type {const} */ (['from', 'to'])) {
    const day = new Date(Date.parse(`2000-${span[end]}T00:00:00Z`));
    if (!/^\d\d-\d\d$/.test(span[end]) || Number.isNaN(day.getTime()) || day.toISOString().slice(5, 10) !== span[end]) wrong[`${id}-${end}`] = t.need.day;
  }
  return { from: span.from, to: span.to };
}

/** @param {RuleWritten} w @param {Record<string, string>} wrong */
function toCut({ cut: { leave, as, above, part, notTorn } }, wrong) {
  /** @type {Record<string, any>} */
  const cut = {};
  if (leave.trim() !== '') {
    const mm = readMeasure(leave, as, 'mm');
    if (mm === undefined) wrong['cut-leave'] = t.need.number;
    else if (!above) wrong['cut-above'] = t.need.above;
    else cut.leaveMm = mm;
  }
  if (above) cut.above = above;
  if (part.trim() !== '') {
    const share = readMeasure(part, '%', 'share');
    if (share === undefined || share > 1) wrong['cut-part'] = t.need.percent;
    else cut.leavePart = share;
  }
  if (notTorn) cut.notTorn = true;
  if (Object.keys(cut).length === 0 && !wrong['cut-leave'] && !wrong['cut-above'] && !wrong['cut-part']) wrong['cut-leave'] = t.need.cut;
  return cut;
}

/** @param {RuleWritten} w @param {Record<string, string>} wrong */
function toPerson({ person: { licence, consent, ageFrom, ageTo, above } }, wrong) {
  /** @type {Record<string, any>} */
  const person = {};
  if (licence.trim()) Object.assign(person, { licence: licence.trim() }, above ? { above } : {});
  if (consent.trim()) person.consent = consent.trim();
  for (const [name, typed] of /** @type {const} */ ([['ageFrom', ageFrom], ['ageTo', ageTo]])) {
    if (typed.trim() === '') continue;
    if (!/^\d{1,3}$/.test(typed.trim()) || Number(typed) > 120) wrong[`person-${name}`] = t.need.years;
    else person[name] = Number(typed);
  }
  if (Object.keys(person).length === 0 && !wrong['person-ageFrom'] && !wrong['person-ageTo']) wrong['person-licence'] = t.need.person;
  return person;
}
