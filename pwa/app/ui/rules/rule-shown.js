// A rule of the book as the form shows it: each part as its question's answer, and what the form
// has no question for kept beside. Nothing here but data.

import { newRule } from './rule-fields.js';
import { written } from './measures.js';

/** @typedef {import('./rule-fields.js').RuleWritten} RuleWritten */
/** @typedef {import('./rule-fields.js').LimitWritten} LimitWritten */
/** @typedef {import('./rule-fields.js').SizeWritten} SizeWritten */
/** @typedef {import('./rule-fields.js').SpanWritten} SpanWritten */

/** Parts that only a file can say. */
const KEPT = ['where', 'during', 'unless', 'substrate', 'rest'];

/**
 * A rule as the form shows it.
 * @param {string} name
 * @param {Record<string, any>} r
 * @returns {RuleWritten}
 */
export function ofRule(name, r) {
  const out = { ...newRule(), name, take: /** @type {RuleWritten['take']} */ (r.take ?? 'silent') };
  const { all, rest, taxa = [], groups = [], states = [], except = {} } = /** @type {Record<string, any>} */ (r.of ?? {});
  out.of = { all: Boolean(all), rest: Boolean(rest), taxa, groups, states, exceptTaxa: except.taxa ?? [], exceptGroups: except.groups ?? [] };
  for (const part of KEPT) if (r[part] !== undefined) out.kept[part] = r[part];
  const asks = (/** @type {string} */ question) => out.asked.push(question);
  if (r.limits) asks('limits') && (out.limits = r.limits.map(ofLimit));
  if (r.sizes) asks('sizes') && (out.sizes = r.sizes.map(ofSize));
  if (r.season) {
    const spans = r.season.open ?? r.season.closed ?? [];
    if (spans.every(plainSpan)) asks('season') && (out.season = { is: r.season.open ? 'open' : 'closed', spans: spans.map(ofSpan) });
    else out.kept.season = r.season;
  }
  if (r.hours) {
    const { from, to, fromMin, toMin } = r.hours;
    const sun = from === 'sunrise' && to === 'sunset';
    if (fromMin || toMin || (!sun && (from === 'sunrise' || to === 'sunset'))) out.kept.hours = r.hours;
    else asks('hours') && (out.hours = sun ? { sun, from: '', to: '' } : { sun, from, to });
  }
  const lines = (/** @type {any} */ of) => ({ only: (of.only ?? []).join('\n'), never: (of.never ?? []).join('\n') });
  for (const part of /** @type {const} */ (['gear', 'use'])) {
    if (!r[part]) continue;
    if ([...(r[part].only ?? []), ...(r[part].never ?? [])].some((/** @type {string} */ word) => word.includes('\n'))) out.kept[part] = r[part];
    else asks(part) && (out[part] = lines(r[part]));
  }
  if (r.cut) {
    const { leaveMm, above = '', leavePart, notTorn } = r.cut;
    const leave = leaveMm === undefined ? { written: '', as: 'cm' } : written(leaveMm, 'mm');
    asks('cut');
    out.cut = { leave: leave.written, as: leave.as, above, part: leavePart === undefined ? '' : written(leavePart, 'share').written, notTorn: Boolean(notTorn) };
  }
  if (r.person) {
    const { licence = '', consent = '', ageFrom, ageTo, above } = r.person;
    asks('person');
    out.person = { licence, consent, ageFrom: ageFrom === undefined ? '' : String(ageFrom), ageTo: ageTo === undefined ? '' : String(ageTo), ...(above ? { above } : {}) };
  }
  if (r.return) asks('return') && (out.back = r.return);
  if (r.duties) asks('duties') && (out.duties = r.duties.map((/** @type {any} */ one) => ({ do: one.do, ask: one.ask ?? '' })));
  if (r.note) asks('note') && (out.note = r.note);
  return out;
}

/** @param {any} l @returns {LimitWritten} */
function ofLimit(l) {
  const { written: most, as } = written(l.most, l.unit);
  return {
    most, as, unit: l.unit, weighed: l.weighed ?? '', base: l.base, per: l.per, days: l.days === undefined ? '' : String(l.days), each: l.each === 'taxon', who: l.who ?? '',
    putBackFree: l.putBack === 'free', keepFirst: Boolean(l.keepFirst), ...(l.or ? { or: l.or } : {}),
  };
}

/** @param {any} z @returns {SizeWritten} */
function ofSize({ axis, leastMm, mostMm }) {
  // Both in one unit: that in which both are short.
  const [a, b] = [leastMm, mostMm].map((mm) => (mm === undefined ? undefined : written(mm, 'mm')));
  const as = a && b && a.as !== b.as ? 'mm' : (a ?? b)?.as ?? 'mm';
  const of = (/** @type {number | undefined} */ mm, /** @type {typeof a} */ one) => (mm === undefined || !one ? '' : one.as === as ? one.written : String(mm));
  return { axis, least: of(leastMm, a), most: of(mostMm, b), as };
}

/** @param {any} span */
const plainSpan = (span) => Boolean(span.months) || (span.from?.length === 5 && span.to?.length === 5);
/** @param {any} span @returns {SpanWritten} */
const ofSpan = (span) => (span.months ? { how: 'months', from: '', to: '', months: span.months } : { how: 'dates', from: span.from, to: span.to, months: [] });
