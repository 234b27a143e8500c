// A set as somebody writes it, step by step, and as the document that the book keeps. Nothing
// here but data.

import { isDay } from './days.js';
import { inWords } from './rule-words.js';
import { newLimit, newRule, toRule } from './rule-fields.js';
import { ofRule } from './rule-shown.js';
import { ruleForm as t } from '../../text/en-rule-form.js';

/** @typedef {import('./rule-fields.js').RuleWritten} RuleWritten */
/**
 * @typedef {object} SetWritten
 * @property {string} name
 * @property {string} layer '' where it is not said yet
 * @property {string} authority
 * @property {string} ask
 * @property {string} source
 * @property {string} sourceDate
 * @property {string} from
 * @property {string} to
 * @property {string[]} purposes none where the notice does not say
 * @property {string} place
 * @property {Record<string, any>} area of a file, as far as the form has no question for it
 * @property {string} otherwise
 * @property {string} note
 * @property {RuleWritten[]} rules
 */

export const STEPS = /** @type {const} */ (['who', 'source', 'where', 'rules', 'check']);
/** @typedef {typeof STEPS[number]} Step */
export const LAYERS = ['national', 'regional', 'park', 'closure'];

/** @returns {SetWritten} */
const blank = () => ({ name: '', layer: '', authority: '', ask: '', source: '', sourceDate: '', from: '', to: '', purposes: [], place: '', area: { everywhere: true }, otherwise: '', note: '', rules: [] });

/**
 * What a form begins with: the questions that such a notice answers are open. They are those of
 * internal/take/forms.
 * @param {string} start notice, reserve, closure, blank
 * @returns {SetWritten}
 */
export function begun(start) {
  const set = blank();
  const rule = (/** @type {Partial<RuleWritten>} */ more, /** @type {Partial<RuleWritten['of']>} */ of = {}) => ({ ...newRule(), ...more, of: { ...newRule().of, ...of } });
  if (start === 'notice') {
    return { ...set, layer: 'regional', rules: [rule({ take: 'allowed', asked: ['limits', 'sizes', 'season', 'return'], limits: [newLimit(), { ...newLimit(), per: 'possession' }] })] };
  }
  if (start === 'reserve') {
    return { ...set, layer: 'park', otherwise: 'forbidden', rules: [rule({ name: 'what may be taken', take: 'allowed', asked: ['hours', 'person'] }, { states: ['drift'] }), rule({ name: 'shut', take: 'silent', asked: ['season'] }, { all: true })] };
  }
  if (start === 'closure') return { ...set, layer: 'closure', rules: [rule({ name: 'closed', take: 'forbidden', asked: ['note'] })] };
  return set;
}

/**
 * A set on file as the form shows it.
 * @param {Record<string, any>} d
 * @returns {SetWritten}
 */
export function ofDocument(d) {
  const { place = '', ...area } = d.area ?? {};
  const some = /** @type {const} */ (['name', 'layer', 'authority', 'ask', 'source', 'sourceDate', 'from', 'to', 'note', 'otherwise']);
  return {
    ...blank(), ...Object.fromEntries(some.map((field) => [field, d[field] ?? ''])), purposes: d.purposes ?? [], place, area,
    rules: Object.entries(d.rules ?? {}).map(([name, rule]) => ofRule(name, rule)),
  };
}

/** Characters, as internal/take/ruleset.form has it. */
const MOST = { name: 300, authority: 300, ask: 300, source: 300, place: 200, note: 2000 };
const MOST_NAME = 60;

/**
 * What is wrong with a step, by the id of its control.
 * @param {SetWritten} w
 * @param {Step} step
 */
export function wrongIn(w, step) {
  /** @type {Record<string, string>} */
  const wrong = {};
  const text = (/** @type {keyof typeof MOST} */ field, needed = true) => {
    if (needed && !w[field].trim()) wrong[`set-${field}`] = t.need.some(t[field]);
    else if (Array.from(w[field].trim()).length > MOST[field]) wrong[`set-${field}`] = t.need.tooLong(MOST[field]);
  };
  if (step === 'who') {
    text('name');
    if (!w.layer) wrong['set-layer'] = t.need.layer;
    text('authority');
    text('ask');
  } else if (step === 'source') {
    text('source');
    if (!isDay(w.sourceDate)) wrong['set-sourceDate'] = t.need.day;
    for (const field of /** @type {const} */ (['from', 'to'])) if (w[field] && !isDay(w[field])) wrong[`set-${field}`] = t.need.day;
    if (w.from && w.to && w.to < w.from) wrong['set-to'] = t.need.order;
  } else if (step === 'where') {
    text('place');
  } else if (step === 'rules') {
    if (!w.otherwise && w.layer !== 'closure' && w.layer !== 'household') wrong['set-otherwise'] = t.need.otherwise;
    text('note', false);
    if (w.rules.length === 0) wrong['add-rule'] = t.needRules;
    const at = w.rules.findIndex((_, i) => Object.keys(wrongRule(w, i).wrong).length > 0);
    if (at >= 0) wrong['add-rule'] = t.needFinish(names(w)[at]);
  }
  return wrong;
}

/**
 * One rule of the set, with what is wrong with it.
 * @param {SetWritten} w
 * @param {number} i
 */
export function wrongRule(w, i) {
  const { rule, wrong } = toRule(w.rules[i]);
  const name = w.rules[i].name.trim();
  if (Array.from(name).length > MOST_NAME || /[./[\]]/.test(name)) wrong['rule-name'] = t.rule.needName;
  else if (name && w.rules.some((other, j) => j !== i && other.name.trim() === name)) wrong['rule-name'] = t.rule.sameName;
  return { rule, wrong };
}

/**
 * What its rules are called: as somebody wrote it, else by their kinds; each once.
 * @param {SetWritten} w
 */
export function names(w) {
  /** @type {string[]} */
  const out = [];
  const written = w.rules.map((rule) => rule.name.trim());
  w.rules.forEach((rule, i) => {
    const own = written[i] || calledBy(rule) || t.unnamed(i + 1);
    let name = own;
    for (let n = 2; out.includes(name) || (!written[i] && written.includes(name)); n++) name = `${own} ${n}`;
    out.push(name);
  });
  return out;
}

/** @param {RuleWritten} rule */
function calledBy({ of }) {
  if (!of.all && !of.rest && of.taxa.length + of.groups.length === 0) return '';
  const words = inWords({ of: { ...(of.all ? { all: true } : {}), ...(of.rest ? { rest: true } : {}), taxa: of.taxa, groups: of.groups } }).of;
  return Array.from(words.replace(/[./[\]]/g, ' ').replace(/\s+/g, ' ')).slice(0, MOST_NAME - 4).join('').trim();
}

/**
 * The document that the form says. What is wrong with it wrongIn says.
 * @param {SetWritten} w
 */
export function toDocument(w) {
  const called = names(w);
  const maybe = (/** @type {string} */ field, /** @type {any} */ value) => (value && value.length > 0 ? { [field]: value } : {});
  return {
    form: 1, name: w.name.trim(), layer: w.layer, authority: w.authority.trim(), ask: w.ask.trim(), source: w.source.trim(), sourceDate: w.sourceDate, ...maybe('from', w.from), ...maybe('to', w.to),
    area: { place: w.place.trim(), ...w.area }, ...maybe('purposes', w.purposes), ...maybe('otherwise', w.otherwise), ...maybe('note', w.note.trim()),
    rules: Object.fromEntries(w.rules.map((rule, i) => [called[i], toRule(rule).rule])),
  };
}
