// A rule in plain sentences, one for each part of it. Nothing here but words: what is on file,
// what is about to be, and what somebody is writing read alike.

import { words as w } from '../../text/en-rule-words.js';
import { monthDay, monthName } from './days.js';
import { measure } from './measures.js';

/** @typedef {Record<string, any>} Rule as internal/take/FORM.md has it */
/** @typedef {(taxon: string) => string} Called gives what people call a kind */

/**
 * @param {Rule} rule
 * @param {Called} [called]
 * @returns {{of: string, says: string[]}} of which kinds, and what of them
 */
export function inWords(rule, called = (name) => name) {
  return { of: subject(rule.of ?? {}, called), says: says(rule) };
}

/** @param {string} words */
const upper = (words) => words.slice(0, 1).toUpperCase() + words.slice(1);

/** @param {{taxa?: string[], groups?: string[]}} of @param {Called} called */
const named = ({ taxa = [], groups = [] }, called) => w.join([...groups.map((id) => w.groups[id] ?? id), ...taxa.map(called)], 'and');

/** @param {Record<string, any>} of @param {Called} called */
function subject(of, called) {
  const names = named(of, called);
  let out = of.all ? w.all : of.rest ? (names ? w.restOf(names) : w.restOfAll) : upper(names);
  if (of.except) out = w.except(out, named(of.except, called));
  if (of.states) out = w.inState(out, of.states.map((/** @type {string} */ is) => w.states[is] ?? is));
  return out;
}

/** @param {Rule} r */
function says(r) {
  const out = [...whereWords(r.where), ...(r.during ? [w.during(seasonWords(r.during))] : []), ...unlessWords(r.unless)];
  if (r.take) out.push(r.take === 'allowed' ? w.allowed : w.forbidden);
  for (const limit of r.limits ?? []) out.push(limitWords(limit));
  for (const size of r.sizes ?? []) out.push(sizeWords(size));
  if (r.season) out.push(seasonWords(r.season));
  if (r.hours) out.push(w.hours(w.shifted(r.hours.from, r.hours.fromMin ?? 0), w.shifted(r.hours.to, r.hours.toMin ?? 0)));
  for (const part of ['gear', 'use', 'substrate']) {
    if (r[part]?.only) out.push(w.only[part](w.join(r[part].only, 'or')));
    if (r[part]?.never) out.push(w.never[part](w.join(r[part].never, 'or')));
  }
  if (r.person) out.push(...personWords(r.person));
  if (r.rest) out.push(w.rest(r.rest));
  if (r.cut) out.push(...cutWords(r.cut));
  for (const { do: what, ask } of r.duties ?? []) out.push(ask ? `${w.duty(what)} ${w.asks(ask)}` : w.duty(what));
  if (r.return) out.push(w.return[r.return]);
  if (r.note) out.push(w.note(r.note));
  return out;
}

/** @param {{most: number, unit: string, weighed?: string}} m */
function muchWords({ most, unit, weighed }) {
  const n = measure(most, unit);
  const much = unit === 'containers' ? w.containers(n) : unit === 'share' ? w.share(n) : n;
  return weighed ? `${much} (${w.weighed[weighed]})` : much;
}

/**
 * "5 for each person in a day", and what else there is to say of it.
 * @param {Record<string, any>} l
 * @returns {[string, string[]]}
 */
function limitParts(l) {
  const whose = l.base === 'person' && l.who ? w.who[l.who] : l.who ? `${w.base[l.base]} (${w.who[l.who]})` : w.base[l.base];
  const more = [];
  if (l.keepFirst) more.push(w.keepFirst(measure(l.most, l.unit)));
  if (l.putBack) more.push(w.putBackFree);
  if (l.or) more.push(w.or(muchWords(l.or)));
  return [[muchWords(/** @type {any} */ (l)), ...(l.each ? [w.each] : []), whose, l.per === 'days' ? w.days(l.days) : w.per[l.per]].join(' '), more];
}

/** @param {Record<string, any>} l */
function limitWords(l) {
  const [much, more] = limitParts(l);
  return [w.atMost(much), ...more].join(' ');
}

/** @param {{axis: string, leastMm?: number, mostMm?: number}} z */
function sizeWords({ axis, leastMm, mostMm }) {
  const along = w.axis[axis];
  if (mostMm === undefined) return w.least(measure(leastMm ?? 0, 'mm'), along);
  return leastMm === undefined ? w.most(measure(mostMm, 'mm'), along) : w.slot(measure(leastMm, 'mm'), measure(mostMm, 'mm'), along);
}

/** @param {{open?: any[], closed?: any[]}} s */
const seasonWords = (s) => (s.open ? w.open(spanWords(s.open)) : w.closed(spanWords(s.closed ?? [])));

/** @param {any[]} spans */
const spanWords = (spans) => w.join(spans.map((span) => {
  if (span.from) return w.fromTo(monthDay(span.from), monthDay(span.to));
  if (span.months) return w.months(span.months.map((/** @type {number} */ n) => monthName(n)));
  return span.days ? w.onDays(span.days.map(monthDay)) : w.moon(span.moon.first, span.moon.last, w.moons[span.moon.of]);
}), 'and');

/** @param {Record<string, any>} p */
function personWords(p) {
  const out = [];
  if (p.licence && p.above) {
    const [much, more] = limitParts(p.above);
    out.push([w.licenceAbove(p.licence, much), ...more].join(' '));
  } else if (p.licence) out.push(w.licence(p.licence));
  if (p.consent) out.push(w.consent(p.consent));
  if (p.ageFrom !== undefined) out.push(w.ageFrom(p.ageFrom));
  if (p.ageTo !== undefined) out.push(w.ageTo(p.ageTo));
  return out;
}

/** @param {Record<string, any>} c */
function cutWords(c) {
  const out = [];
  if (c.leaveMm) out.push(w.cutAbove(measure(c.leaveMm, 'mm'), c.above));
  else if (c.above) out.push(w.cutOver(c.above));
  if (c.leavePart) out.push(w.cutPart(measure(c.leavePart, 'share')));
  if (c.notTorn) out.push(w.notTorn);
  return out;
}

/**
 * Where a rule or a set holds, as far as it is narrower than its place.
 * @param {Record<string, any>} [a]
 */
export function whereWords(a) {
  if (!a) return [];
  const out = a.place ? [w.in(a.place)] : [];
  if (a.polygons) out.push(a.place ? w.drawnIn : w.drawn);
  if (a.except) out.push(w.cutOut);
  const { above, below } = a.strip ?? {};
  const level = (/** @type {{named?: string, plusM: number}} */ one) => w.level(one.named ?? '', one.plusM);
  if (above && below) out.push(w.strip(level(above), level(below)));
  else if (above) out.push(w.stripAbove(level(above)));
  else if (below) out.push(w.stripBelow(level(below)));
  return out;
}

/** @param {Record<string, any>} [u] */
function unlessWords(u) {
  if (!u) return [];
  const who = [...(u.licences ?? []).map(w.hasLicence), ...(u.rights ?? []).map(w.hasRight)];
  if (u.ageUnder !== undefined) who.push(w.under(u.ageUnder));
  if (u.ageFrom !== undefined) who.push(w.from(u.ageFrom));
  return [w.unless(w.join(who, 'or'))];
}
