// The forms of rules: a set written from a notice, a rule of the household's own, an imagined
// find, a share of a patch. The sets are those of testdata/rules.

import test from 'node:test';
import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { begun, names, ofDocument, toDocument, wrongIn, STEPS } from '../app/ui/rules/write-fields.js';
import { OWN, begun as begunOwn, newOwn, ofOwn, ownDocument, toOwn } from '../app/ui/rules/own-fields.js';
import { newRule, toRule } from '../app/ui/rules/rule-fields.js';
import { ofRule } from '../app/ui/rules/rule-shown.js';
import { newTry, tried } from '../app/ui/rules/try-fields.js';
import { shareAsk } from '../app/ui/rules/share-fields.js';
import { changesOf, heldOf } from '../app/ui/rules/paper-fields.js';
import { papersNamed, wordsNamed } from '../app/ui/rules/named.js';
import { questionsOf } from '../app/ui/rules/questions.js';

const folder = new URL('../../testdata/rules/', import.meta.url);
const sets = readdirSync(folder).filter((name) => /^\d\d-.*\.json$/.test(name) && !name.endsWith('.cases.json')).map((name) => [name, JSON.parse(readFileSync(new URL(name, folder), 'utf8'))]);

test('a set goes through the form unchanged', () => {
  assert.equal(sets.length, 24);
  for (const [name, set] of sets) {
    const w = ofDocument(set);
    for (const step of STEPS) assert.deepEqual(Object.keys(wrongIn(w, step)).filter((id) => id !== 'set-otherwise'), [], `${name}: ${step}`);
    const again = toDocument(w);
    // Text without spaces at its ends; what the book would fill in is filled in by nobody.
    assert.deepEqual(again, { ...set, ...(set.note ? { note: set.note.trim() } : {}) }, name);
  }
});

test('every set says what it asks', () => {
  for (const [name, set] of sets) {
    const asks = questionsOf(set);
    assert.ok(asks.length > 0 && asks.every((one) => typeof one === 'string' && /[?.]$/.test(one)), `${name}: ${asks}`);
    assert.equal(new Set(asks).size, asks.length, name);
  }
});

test('what a step wants', () => {
  const w = begun('notice');
  assert.deepEqual(Object.keys(wrongIn(w, 'who')), ['set-name', 'set-authority', 'set-ask']);
  assert.deepEqual(Object.keys(wrongIn(begun('blank'), 'who')), ['set-name', 'set-layer', 'set-authority', 'set-ask']);
  assert.deepEqual(Object.keys(wrongIn({ ...w, source: 'x', sourceDate: '2026-03-01', from: '2026-04-01', to: '2026-03-01' }, 'source')), ['set-to']);
  assert.deepEqual(Object.keys(wrongIn(w, 'source')), ['set-source', 'set-sourceDate']);
  assert.deepEqual(Object.keys(wrongIn(w, 'where')), ['set-place']);
  assert.deepEqual(Object.keys(wrongIn(w, 'rules')), ['set-otherwise', 'add-rule']);
  assert.deepEqual(Object.keys(wrongIn({ ...begun('blank'), otherwise: 'unchecked' }, 'rules')), ['add-rule']);
  assert.deepEqual(Object.keys(wrongIn({ ...w, name: 'x'.repeat(301), authority: 'x', ask: 'x' }, 'who')), ['set-name']);
});

// The empty forms of internal/take: the page begins with the same questions.
test('a form begins with what the empty forms ask', () => {
  const forms = new URL('../../internal/take/forms/', import.meta.url);
  const all = readdirSync(forms).filter((name) => name.endsWith('.json'));
  assert.deepEqual(all.sort(), ['closure.json', 'notice.json', 'reserve.json']);
  const asked = { limits: 'limits', sizes: 'sizes', season: 'season', hours: 'hours', gear: 'gear', cut: 'cut', use: 'use', person: 'person', return: 'return', duties: 'duties', note: 'note' };
  for (const file of all) {
    const form = JSON.parse(readFileSync(new URL(file, forms), 'utf8'));
    const w = begun(file.replace('.json', ''));
    assert.equal(w.layer, form.layer, file);
    assert.equal(w.otherwise, form.otherwise ?? '', file);
    const rules = Object.values(form.rules);
    assert.equal(w.rules.length, rules.length, file);
    rules.forEach((rule, i) => {
      assert.equal(w.rules[i].take, rule.take ?? 'silent', file);
      assert.deepEqual([...w.rules[i].asked].sort(), Object.keys(rule).filter((part) => part in asked).sort(), file);
      assert.equal(w.rules[i].of.all, Boolean(rule.of.all), file);
      assert.deepEqual(w.rules[i].of.states, rule.of.states ?? [], file);
      if (rule.limits) assert.deepEqual(w.rules[i].limits.map(({ unit, base, per }) => ({ unit, base, per })), rule.limits.map(({ unit, base, per }) => ({ unit, base, per })), file);
    });
  }
});

test('rules are called by their kinds, each once, in names that the form allows', () => {
  const named = (name, of) => ({ ...newRule(), name, of: { ...newRule().of, ...of } });
  const w = { ...begun('blank'), rules: [named('', { groups: ['snails'] }), named('', { groups: ['snails'] }), named('Snails 2', { all: true }), named('', { all: true }), named('', {}), named('', { taxa: [`A. b./[c] ${'x'.repeat(90)}`] })] };
  const all = names(w);
  assert.deepEqual(all.slice(0, 5), ['Snails', 'Snails 3', 'Snails 2', 'Everything', 'rule 5']);
  assert.equal(new Set(all).size, all.length);
  for (const name of all) assert.match(name, /^[^./[\]]{1,60}$/);
});

test('rules of one’s own', () => {
  const rows = [
    ['share', '10', { of: { groups: ['algae'] }, limits: [{ most: 0.1, unit: 'share', base: 'household', per: 'day', each: 'taxon' }] }],
    ['share', '2.5', { of: { groups: ['algae'] }, limits: [{ most: 0.025, unit: 'share', base: 'household', per: 'day', each: 'taxon' }] }],
    ['rest', '14', { of: { all: true }, rest: 14 }],
    ['care', '3', { of: { taxa: ['Actinia equina'] }, limits: [{ most: 3, unit: 'count', base: 'household', per: 'possession' }] }],
    ['holdfast', '', { of: { groups: ['algae'] }, cut: { above: 'holdfast' } }],
    ['holdfast', '66', { of: { groups: ['algae'] }, cut: { above: 'holdfast', leavePart: 0.66 } }],
    ['number', '6', { of: { taxa: ['Actinia equina'] }, limits: [{ most: 6, unit: 'count', base: 'household', per: 'day' }] }],
    ['never', '', { of: { taxa: ['Actinia equina'] }, take: 'forbidden' }],
  ];
  assert.deepEqual([...new Set(rows.map(([kind]) => kind))].sort(), [...OWN].sort());
  for (const [kind, n, want] of rows) {
    const w = { ...newOwn(), ...begunOwn(kind), n };
    if (want.of.taxa) w.taxa = want.of.taxa;
    const { rule, name, wrong } = toOwn(w);
    assert.deepEqual(wrong, {}, kind);
    assert.deepEqual(rule, want, kind);
    assert.deepEqual(ofOwn(ownDocument(name, rule, '2026-11-25', '')), { ...w, name }, kind);
  }
  for (const [kind, n] of [['share', '0'], ['share', '101'], ['rest', '0'], ['rest', '1.5'], ['care', ''], ['number', '-1'], ['holdfast', 'x']]) {
    assert.deepEqual(Object.keys(toOwn({ ...newOwn(), ...begunOwn(kind), all: kind !== 'holdfast', n }).wrong), ['own-n'], `${kind} ${n}`);
  }
  for (const [name, set] of sets) assert.equal(ofOwn({ ...set, layer: 'household' }), undefined, name);
});

test('an imagined find', () => {
  const w = { ...newTry(), taxon: 'Littorina littorea', group: 'snails', state: 'living', value: '3', massG: '12,5', sizeMm: '16', day: '2026-07-01', time: '09:30' };
  assert.deepEqual(tried(w, 'Europe/Oslo'), { wrong: {}, find: {
    at: '2026-07-01T07:30:00Z', by: null, taxon: 'Littorina littorea', group: 'snails', state: 'living', amount: { value: 3, unit: 'count' }, mass: { g: 12.5, weighed: 'wet' }, size: { mm: 16, axis: 'shell' },
  } });
  for (const [change, id] of [[{ taxon: '' }, 'try-kind'], [{ value: '1.5' }, 'try-amount'], [{ massG: 'x' }, 'try-massG'], [{ day: '2026-02-30' }, 'try-day'], [{ time: '' }, 'try-day']]) {
    assert.deepEqual(Object.keys(tried({ ...w, ...change }, 'Europe/Oslo').wrong), [id]);
  }
  assert.deepEqual(tried({ ...w, share: '5', gear: 'hand, knife', use: 'nothing' }, 'Europe/Oslo').find?.share, { part: 0.05 });
  assert.deepEqual([tried({ ...w, gear: 'hand, knife' }, 'Europe/Oslo').find?.gear, tried({ ...w, use: 'Nothing' }, 'Europe/Oslo').find?.use, tried(w, 'Europe/Oslo').find?.use], [['hand', 'knife'], [], undefined]);
  assert.deepEqual(Object.keys(tried({ ...w, share: '101' }, 'Europe/Oslo').wrong), ['try-share']);
  assert.equal(tried({ ...w, value: '' }, 'Europe/Oslo').find?.amount, null);
});

// The clocks of Oslo go forward on 29 March 2026 at 01:00 UTC and back on 25 October (Directive 2000/84/EC).
test('the instant of a clock time on the day on which the clocks change', () => {
  const rows = [['2026-03-29', '01:30', '2026-03-29T00:30:00Z'], ['2026-03-29', '09:00', '2026-03-29T07:00:00Z'], ['2026-10-25', '09:00', '2026-10-25T08:00:00Z'], ['2026-10-25', '01:30', '2026-10-24T23:30:00Z'], ['2026-07-01', '00:00', '2026-06-30T22:00:00Z']];
  for (const [day, time, want] of rows) assert.equal(tried({ ...newTry(), taxon: 'Ulva lactuca', day, time }, 'Europe/Oslo').find?.at, want, `${day} ${time}`);
});

test('papers that rules name, and what a member holds', () => {
  const held = sets.map(([, document]) => ({ document }));
  const named = papersNamed(held);
  assert.ok(named.licences.includes('shellfish licence') && named.licences.includes('saltwater licence')); // 06 and 10
  assert.ok(wordsNamed(held, 'use').includes('sale') && wordsNamed(held, 'gear').length > 0);
  const fields = { name: 'Tam', 'licences/1': { what: 'shellfish licence', until: '2026-12-31' }, 'rights/2': { what: 'an old right' }, 'licences/3': null };
  const asked = { licences: ['shellfish licence', 'boat licence'], rights: [], consents: ['the owner'] };
  const list = heldOf(fields, asked);
  assert.deepEqual(list.map(({ of, what, has, until }) => [of, what, has, until]), [['licences', 'shellfish licence', true, '2026-12-31'], ['licences', 'boat licence', false, ''], ['rights', 'an old right', true, ''], ['consents', 'the owner', false, '']]);
  const mint = () => 'new';
  assert.deepEqual(changesOf(fields, list, mint), {});
  assert.deepEqual(changesOf(fields, [{ ...list[0], has: false }, { ...list[1], has: true, number: ' 7 ' }, list[2], { ...list[3], has: true, until: 'never' }], mint),
    { 'licences/1': null, 'licences/new': { what: 'boat licence', number: '7' }, 'consents/new': { what: 'the owner' } });
});

test('what was counted or paced', () => {
  assert.deepEqual(shareAsk('counts', { counted: '120', taking: '6' }), { counted: 120, taking: 6 });
  assert.deepEqual(shareAsk('paces', { long: '20', wide: '6', partLong: '2', partWide: '3' }), { patch: { longPaces: 20, widePaces: 6 }, part: { longPaces: 2, widePaces: 3 } });
  assert.deepEqual(shareAsk('squares', { side: '50', counts: '4, 7 3', long: '20', wide: '6', pace: '70', taking: '10' }),
    { square: { sideM: 0.5, counts: [4, 7, 3] }, patch: { longPaces: 20, widePaces: 6, paceM: 0.7 }, taking: 10 });
  for (const [how, w] of [['counts', { counted: '120' }], ['counts', { counted: 'x', taking: '6' }], ['paces', {}], ['squares', { side: '50', counts: '', long: '20', wide: '6', pace: '70', taking: '10' }], ['squares', { side: '50', counts: '4 x', long: '20', wide: '6', pace: '70', taking: '10' }]]) {
    assert.equal(shareAsk(how, w), undefined, `${how} ${JSON.stringify(w)}`);
  }
});

test('what only a file can say is not overwritten by an answer to its question', () => {
  const moon = { of: { all: true }, season: { closed: [{ moon: { of: 'full', first: 0, last: 2 } }] }, hours: { from: 'sunrise', to: 'sunset', fromMin: 30 } };
  const w = ofRule('x', moon);
  const { rule } = toRule({ ...w, asked: ['season', 'hours', 'note'], season: { is: 'closed', spans: [{ how: 'months', from: '', to: '', months: [5] }] }, note: 'more' });
  assert.deepEqual(rule, { ...moon, note: 'more' });
});
