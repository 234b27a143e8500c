// What the pages of rules make of a set: sentences, the form and back, ages. The sets are
// those of testdata/rules, models of 24 public rules.

import test from 'node:test';
import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { inWords } from '../app/ui/rules/rule-words.js';
import { newRule, newLimit, newSize, newSpan, toRule } from '../app/ui/rules/rule-fields.js';
import { ofRule } from '../app/ui/rules/rule-shown.js';
import { measure, read, written } from '../app/ui/rules/measures.js';
import { COUNTS, ageOf, isDay, monthDay } from '../app/ui/rules/days.js';

const folder = new URL('../../testdata/rules/', import.meta.url);
const files = readdirSync(folder).filter((name) => /^\d\d-.*\.json$/.test(name) && !name.endsWith('.cases.json'));
const sets = files.map((name) => JSON.parse(readFileSync(new URL(name, folder), 'utf8')));
const all = sets.flatMap((set, i) => Object.entries(set.rules).map(([name, rule]) => ({ where: `${files[i]}: ${name}`, name, rule })));

test('the models are all there', () => {
  assert.equal(files.length, 24);
  assert.ok(all.length > 60, `${all.length} rules`);
});

test('every rule reads as sentences', () => {
  for (const { where, rule } of all) {
    const { of, says } = inWords(rule);
    assert.ok(of.length > 0 && says.length > 0, where);
    for (const line of [of, ...says]) assert.ok(!/undefined|NaN|null|\[object/.test(line), `${where}: ${line}`);
    for (const line of says) assert.match(line, /[.?!]$/, `${where}: ${line}`);
  }
});

// The sentences that a reader of the file would write: three models by hand.
test('rules read as a person would put them', () => {
  const rows = [
    ['06-washington-clams.json', 'razor clams', 'Siliqua patula', ['May be taken, within what else the rules say.', 'At most 15 for each person in a day. The first 15 must be kept, whatever their size or condition.', 'At most 15 for each person in possession at any one time.', 'Have your own container.', 'Once taken, it may not be put back.']],
    ['19-finistere.json', 'dulse', 'Palmaria palmata', ['May be taken, within what else the rules say.', 'Must be at least 25 cm along the frond.', 'Open only from 1 April to 31 December.']],
    ['06-washington-clams.json', 'relic shell', 'All molluscs, but not Ostrea, Magallana and Crassostrea (only empty or dead)', ['May be taken, within what else the rules say.', 'At most 2267.96 g for each person in a day.']],
  ];
  for (const [file, name, of, says] of rows) assert.deepEqual(inWords(sets[files.indexOf(file)].rules[name]), { of, says }, name);
  assert.deepEqual(inWords({ of: { all: true }, person: { licence: 'gathering card', above: { most: 4, unit: 'count', base: 'person', per: 'day' } } }).says, ['Needs the licence “gathering card” for more than 4 for each person in a day.']);
});

/** Every value in a rule with a way to change it. */
function leaves(value, path = []) {
  if (Array.isArray(value) && value.every((one) => typeof one === 'object')) return value.flatMap((one, i) => leaves(one, [...path, i]));
  if (value !== null && typeof value === 'object' && !Array.isArray(value)) return Object.entries(value).flatMap(([name, one]) => leaves(one, [...path, name]));
  return [{ path, value }];
}
/** Another value that the form of a set allows in the same place. */
const OTHER = {
  take: ['allowed', 'forbidden'], unit: ['count', 'g', 'mL'], base: ['person', 'party', 'household'], per: ['day', 'tide', 'outing'], axis: ['shell', 'frond'], return: ['demanded', 'forbidden'],
  above: ['holdfast', 'bulb'], weighed: ['wet', 'dried'], who: ['adults', 'all'], of: ['new', 'full'],
};
const other = (name, value) => (name === 'from' || name === 'to') && /^\d\d-\d\d$/.test(value) ? (value === '02-03' ? '03-04' : '02-03')
  : OTHER[name]?.find((one) => one !== value) ?? (typeof value === 'number' ? value + 1 : Array.isArray(value) ? value.map((one) => (typeof one === 'number' ? (one % 12) + 1 : `${one}x`)) : `${value}x`);
const DRAWN = /^(where|of\.except)?\.?(polygons|except)\b/; // drawings are not read out

test('no part of a rule goes unsaid: to change or leave out any changes the words', () => {
  let tried = 0;
  for (const { where, rule } of all) {
    const before = JSON.stringify(inWords(rule));
    for (const { path, value } of leaves(rule)) {
      const at = path.join('.');
      if (DRAWN.test(at.replace(/^where\./, ''))) continue;
      const changed = structuredClone(rule);
      let in_ = changed;
      for (const step of path.slice(0, -1)) in_ = in_[step];
      const name = path[path.length - 1];
      if (value === true || name === 'each' || name === 'putBack') delete in_[name];
      else in_[name] = other(name, value);
      assert.notEqual(JSON.stringify(inWords(changed)), before, `${where}: ${at}`);
      tried++;
    }
  }
  assert.ok(tried > 400, `${tried} parts were changed`);
});

test('a rule goes through the form unchanged', () => {
  for (const { where, name, rule } of all) {
    const { rule: again, wrong } = toRule(ofRule(name, rule));
    assert.deepEqual(wrong, {}, where);
    assert.deepEqual(again, rule, where);
  }
});

test('a word with a comma in it stays one', () => {
  const rule = { of: { all: true }, gear: { only: ['hand, gloved', 'knife'] }, use: { never: ['sale, gift'] } };
  const w = ofRule('x', rule);
  assert.deepEqual([w.kept, w.asked], [{}, ['gear', 'use']]);
  assert.deepEqual(toRule(w), { rule, wrong: {} });
});

test('what the form says', () => {
  const limit = (more) => ({ ...newLimit(), ...more });
  /** @type {[string, object, object][]} */
  const rows = [
    ['never', { take: 'forbidden' }, { take: 'forbidden' }],
    ['five a day', { take: 'allowed', asked: ['limits'], limits: [limit({ most: '5' })] }, { take: 'allowed', limits: [{ most: 5, unit: 'count', base: 'person', per: 'day' }] }],
    ['an empty second limit', { take: 'allowed', asked: ['limits'], limits: [limit({ most: '5' }), limit({ per: 'possession' })] }, { take: 'allowed', limits: [{ most: 5, unit: 'count', base: 'person', per: 'day' }] }],
    ['ten pounds wet', { take: 'allowed', asked: ['limits'], limits: [limit({ most: '10', unit: 'g', as: 'lb', weighed: 'wet' })] }, { take: 'allowed', limits: [{ most: 4535.9237, unit: 'g', weighed: 'wet', base: 'person', per: 'day' }] }],
    ['the first fifteen', { take: 'allowed', asked: ['limits'], limits: [limit({ most: '15', keepFirst: true, putBackFree: true })] }, { take: 'allowed', limits: [{ most: 15, unit: 'count', base: 'person', per: 'day', keepFirst: true }] }],
    ['two inches across', { take: 'silent', asked: ['sizes'], sizes: [{ ...newSize('diameter'), least: '2', as: 'in' }] }, { sizes: [{ axis: 'diameter', leastMm: 50.8 }] }],
    ['closed in summer', { take: 'silent', asked: ['season'], season: { is: 'closed', spans: [{ ...newSpan(), months: [8, 7] }] } }, { season: { closed: [{ months: [7, 8] }] } }],
    ['by day', { take: 'silent', asked: ['hours'] }, { hours: { from: 'sunrise', to: 'sunset' } }],
    ['knives alone', { take: 'silent', asked: ['gear'], gear: { only: 'knife\n hand\nknife', never: '' } }, { gear: { only: ['knife', 'hand'] } }],
    ['30 cm left', { take: 'silent', asked: ['cut'], cut: { leave: '30', as: 'cm', above: 'holdfast', part: '', notTorn: true } }, { cut: { leaveMm: 300, above: 'holdfast', notTorn: true } }],
    ['what was unticked is not said', { take: 'allowed', asked: [], note: 'x' }, { take: 'allowed' }],
  ];
  for (const [name, more, want] of rows) {
    const made = toRule({ ...newRule(), of: { ...newRule().of, groups: ['snails'] }, .../** @type {any} */ (more) });
    assert.deepEqual(made.wrong, {}, name);
    assert.deepEqual(made.rule, { of: { groups: ['snails'] }, ...want }, name);
  }
});

test('what the form refuses, by its control', () => {
  const base = { ...newRule(), of: { ...newRule().of, all: true }, take: 'silent' };
  const rows = [
    ['no kinds', { of: newRule().of }, 'kind-search'], ['nothing said of taking', { take: '' }, 'take'], ['nothing said at all', {}, 'take'],
    ['half a limpet', { asked: ['limits'], limits: [{ ...newLimit(), most: '1.5' }] }, 'limits0-most'], ['no number', { asked: ['limits'] }, 'limits0-most'],
    ['days of none', { asked: ['limits'], limits: [{ ...newLimit(), most: '5', per: 'days', days: '1' }] }, 'limits0-days'],
    ['no size', { asked: ['sizes'] }, 'sizes0-least'], ['sizes that contradict', { asked: ['sizes'], sizes: [{ axis: 'shell', least: '9', most: '8', as: 'mm' }] }, 'sizes0-most'],
    ['no months', { asked: ['season'] }, 'season0-months'], ['30 February', { asked: ['season'], season: { is: 'open', spans: [{ how: 'dates', from: '02-30', to: '03-01', months: [] }] } }, 'season0-from'],
    ['one time', { asked: ['hours'], hours: { sun: false, from: '08:00', to: '' } }, 'hours-from'], ['no gear', { asked: ['gear'] }, 'gear-only'],
    ['a length above nothing', { asked: ['cut'], cut: { leave: '30', as: 'cm', above: '', part: '', notTorn: false } }, 'cut-above'],
    ['110 %', { asked: ['cut'], cut: { leave: '', as: 'cm', above: '', part: '110', notTorn: false } }, 'cut-part'],
    ['no duty', { asked: ['duties'] }, 'duties0-do'], ['nobody', { asked: ['person'] }, 'person-licence'], ['a Methuselah', { asked: ['person'], person: { licence: '', consent: '', ageFrom: '969', ageTo: '' } }, 'person-ageFrom'],
    ['putting back unsaid', { asked: ['return'] }, 'return'], ['an empty note', { asked: ['note'] }, 'note'],
  ];
  for (const [name, more, id] of rows) assert.deepEqual(Object.keys(toRule({ ...base, ...more }).wrong), [id], name);
});

// 1 lb = 453.592 37 g, 1 in = 25.4 mm, 1 US gal = 3 785.411 784 mL (NIST SP 811, appendix B.8).
test('measures as notices print them', () => {
  const rows = [[4535.9237, 'g', '10 lb (4535.92 g)'], [4500, 'g', '4.5 kg'], [250, 'g', '250 g'], [5000, 'g', '5 kg'], [3785.411784, 'mL', '1 gal (3785.41 mL)'], [80, 'mm', '80 mm'], [300, 'mm', '30 cm'],
    [101.6, 'mm', '4 in (101.6 mm)'], [5, 'count', '5'], [0.1, 'share', '10'], [4535.92, 'g', '4535.92 g']];
  for (const [value, unit, want] of rows) assert.equal(measure(value, unit), want);
  for (const unit of ['g', 'mL', 'mm']) {
    for (let n = 1; n < 5000; n += 7) {
      const { written: typed, as } = written(n, unit);
      assert.equal(read(typed, as, unit), n, `${n} ${unit}`);
    }
  }
  for (const typed of ['', 'x', '1e3', '-1', '1.2.3', '99999999']) assert.equal(read(typed, 'g', 'g'), undefined, typed);
});

test('how old a check is', () => {
  const age = (on, layer = 'regional', counts = COUNTS) => ageOf({ layer, checked: on && { on, by: 'Ada' }, today: '2026-11-25', counts });
  assert.deepEqual(age('2026-11-13'), { is: 'fresh', days: 12, since: '2027-05-13' });
  assert.deepEqual(age('2026-05-29'), { is: 'fresh', days: 180, since: '2026-11-26' }); // the last day that counts
  assert.deepEqual(age('2026-05-28'), { is: 'overdue', days: 181, since: '2026-11-25' });
  assert.deepEqual(age('2026-11-23', 'closure'), { is: 'overdue', days: 2, since: '2026-11-25' });
  assert.deepEqual(age('2026-11-24', 'closure'), { is: 'fresh', days: 1, since: '2026-11-26' });
  assert.deepEqual(age('2026-11-23', 'closure', { text: 180, closure: 7 }).is, 'fresh');
  assert.deepEqual(age('2026-11-26').is, 'fresh'); // another zone's today
  assert.deepEqual(age('2026-11-27').is, 'ahead');
  assert.deepEqual(age(undefined).is, 'never');
  assert.deepEqual(age('yesterday').is, 'never');
  assert.deepEqual(age(undefined, 'household').is, 'own');
});

test('days', () => {
  for (const [day, is] of [['2026-11-25', true], ['2026-02-29', false], ['2024-02-29', true], ['1899-12-31', false], ['2201-01-01', false], ['26-11-25', false], ['', false]]) assert.equal(isDay(day), is, day);
  assert.equal(monthDay('04-01'), '1 April');
  assert.equal(monthDay('2026-12-31'), '31 December 2026');
});
