// What a set asks before a take: its own questions, and the facts that its rules need. Nothing
// here but words.

import { questions as t } from '../../text/en-rule-form.js';

/**
 * @param {Record<string, any>} document
 * @returns {string[]} each once
 */
export function questionsOf({ rules = {}, purposes, layer, area }) {
  /** @type {Set<string>} */
  const out = new Set();
  if (purposes || (layer !== 'closure' && layer !== 'household')) out.add(t.purpose);
  const all = /** @type {any[]} */ (Object.values(rules));
  const any = (/** @type {(rule: any) => any} */ is) => all.some(is);
  if (any((r) => r.of?.states)) out.add(t.state);
  for (const r of all) for (const l of [...(r.limits ?? []), ...(r.person?.above ? [r.person.above] : [])]) limitAsks(l, out);
  for (const r of all) for (const z of r.sizes ?? []) out.add(t.size[z.axis]);
  if (any((r) => r.gear)) out.add(t.gear);
  if (any((r) => r.use)) out.add(t.use);
  if (any((r) => r.substrate)) out.add(t.substrate);
  for (const r of all) {
    if (r.person?.licence) out.add(t.licence(r.person.licence));
    if (r.person?.consent) out.add(t.consent(r.person.consent));
    if (r.person?.ageFrom !== undefined || r.person?.ageTo !== undefined || r.unless?.ageUnder !== undefined || r.unless?.ageFrom !== undefined) out.add(t.age);
    if (r.cut) out.add(t.cut);
    for (const duty of r.duties ?? []) if (duty.ask) out.add(duty.ask);
  }
  if (area?.strip || any((r) => r.where?.strip)) out.add(t.level);
  if (area?.polygons || area?.except || any((r) => r.where?.polygons || r.where?.except)) out.add(t.place);
  return [...out];
}

/** @param {any} l @param {Set<string>} out */
function limitAsks(l, out) {
  if (l.base === 'everyone') out.add(t.total);
  if (l.base === 'person' || l.base === 'party') out.add(t.who);
  out.add(l.unit === 'share' ? t.share : l.unit === 'g' ? (l.weighed ? t.mass(l.weighed) : t.weight) : l.unit === 'containers' ? t.container : t.amount);
}
