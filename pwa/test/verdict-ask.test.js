// What the rules on file are asked of a find: the form is that of internal/take/CALLS.md.

import assert from 'node:assert/strict';
import test from 'node:test';
import { daysAsk, shoreAsk, shoresOf, visitsOf } from '../app/data/rules-ask.js';
import { askedOf, factsOf, noFacts, writtenOf } from '../app/ui/shore/find-fields.js';
import { findOf } from '../app/ui/shore/find.js';
import { askedOfFind, partyAsk, partyOf, verdictAsk } from '../app/ui/shore/verdict-ask.js';

const shore = /** @type {any} */ ({ id: 'bay', lat: 60.5, lon: 10.5, zone: 'Europe/Oslo', station: 's', differences: null });
const outing = /** @type {any} */ ({ id: 'o', purpose: 'teaching', party: [
  { id: 'ada', as: 'adult', name: 'Ada', does: 'gathers' }, { id: 'kid', as: 'child', name: 'Kid', number: 7, with: 'ada', does: 'comes along' },
] });
const members = /** @type {any} */ ([
  { id: 'ada', fields: { name: 'Ada', age: 'adult', born: 1984, 'licences/1': { what: 'shellfish licence', number: '12', until: '2026-12-31' }, 'licences/2': null, 'rights/1': { what: 'inherited' } } },
  { id: 'kid', fields: { name: 'Kid', age: 'child' } },
]);
const around = { shore, zone: 'Europe/Oslo', outing, visits: [], members, answers: { 'law/winkles/cut': true }, staleDays: { closure: 2, text: 90 } };

test('an imagined find: no id, taken, and of the find only what rules read and what is known', () => {
  const asked = verdictAsk({ taxon: 'Littorina littorea', group: 'snails', state: 'living', amount: { value: 1, unit: 'count' }, by: 'ada', size: null, container: '', gear: [] }, around);
  assert.deepEqual(asked.find, { id: '', outing: 'o', shore: 'bay', by: 'ada', fate: 'taken', taxon: 'Littorina littorea', group: 'snails', state: 'living', amount: { value: 1, unit: 'count' }, gear: [] });
  assert.equal(asked.purpose, 'teaching');
  assert.deepEqual(asked.answers, { 'law/winkles/cut': true });
  assert.deepEqual([asked.textDays, asked.closureDays], [90, 2]);
});

test('the number on a child’s back is no number of persons; papers that the book has none of are not known', () => {
  assert.deepEqual(partyAsk(outing, members), [
    { id: 'ada', as: 'adult', does: 'gathers', born: 1984, licences: [{ what: 'shellfish licence', until: '2026-12-31' }], rights: [{ what: 'inherited' }], consents: null },
    { id: 'kid', as: 'child', does: 'comes along', licences: null, rights: null, consents: null },
  ]);
});

test('without an outing whoever takes it is the party; without anybody nobody is', () => {
  assert.deepEqual(partyAsk(undefined, members, 'kid').map(({ id, as, does }) => [id, as, does]), [['kid', 'child', 'gathers']]);
  assert.deepEqual(partyAsk(undefined, members, 'stranger'), []);
  assert.deepEqual(partyAsk(undefined, members, null), []);
});

test('a shore with the visits to it alone, and without a shore the zone', () => {
  const visits = visitsOf(/** @type {any} */ ([
    { fields: { shore: 'bay', started: { at: '2026-05-01T08:00:00Z' } } }, { fields: { shore: 'bay', started: null } },
    { fields: { shore: 'cove', started: { at: '2026-06-01T08:00:00Z' } } }, { deleted: true, fields: { shore: 'bay', started: { at: '2026-06-02T08:00:00Z' } } },
    { fields: { shore: 'bay', started: { at: '2026-06-03T08:00:00Z' } } },
  ]));
  assert.deepEqual(shoreAsk(shore, visits), { id: 'bay', lat: 60.5, lon: 10.5, zone: 'Europe/Oslo', station: 's', visits: ['2026-06-03T08:00:00Z', '2026-05-01T08:00:00Z'] });
  assert.deepEqual(verdictAsk({ taxon: 'x', group: '', state: '', amount: null }, { ...around, shore: undefined }).shore, { zone: 'Europe/Oslo' });
  assert.deepEqual(daysAsk(null), {});
});

test('a find on file is asked about under the name that it has now', () => {
  const find = findOf(/** @type {any} */ ({ id: 'f', deleted: false, flags: [], kind: 'find', fields: {
    at: '2026-06-10T10:00:00Z', taxon: 'Ulva lactuca', group: 'greens', fate: 'taken', mass: { g: 12, weighed: 'wet' },
    'identified/1': { at: '2026-06-11T10:00:00Z', by: null, taxon: 'Ulva intestinalis', group: 'greens' } } }));
  const asked = askedOfFind(find);
  assert.equal(asked.id, 'f');
  assert.equal(asked.taxon, 'Ulva intestinalis');
  assert.deepEqual(asked.mass, { g: 12, weighed: 'wet' });
});

test('facts as typed: half of Europe’s comma, what is left empty is not said, what is no number is named', () => {
  assert.deepEqual(factsOf({ ...noFacts, sizeMm: '16,5', axis: 'height', share: '5', gear: ['hand'] }), { wrong: {}, fields: {
    size: { mm: 16.5, axis: 'height' }, mass: null, share: { part: 0.05, how: 'eye' }, gear: ['hand'], use: null, substrate: null } });
  assert.deepEqual(Object.keys(factsOf({ ...noFacts, sizeMm: 'large', massG: '-1', share: '101' }).wrong), ['sizeMm', 'massG', 'share']);
});

test('which shores lie in a set: those that are said to, those that are said not to, and of the rest it is not known', () => {
  const fields = { document: {}, 'shores/bay': true, 'shores/pier': false, 'shores/cove': null };
  assert.deepEqual(shoresOf(fields), ['bay']);
  assert.deepEqual(shoresOf(fields, false), ['pier']);
  assert.equal(shoresOf({ document: {} }), null);
  assert.equal(shoresOf({ 'shores/cove': null }, false), null);
});

test('of an outing that is not on this phone the purpose is not known, and its finds are still its own', () => {
  const find = { id: 'f', outing: 'gone', taxon: 'x', group: '', state: '', amount: null };
  const asked = verdictAsk(find, { ...around, outing: undefined });
  assert.deepEqual([asked.purpose, asked.find.outing], ['', 'gone']);
  assert.equal(verdictAsk({ ...find, outing: null }, { ...around, outing: undefined }).purpose, 'home');
});

test('a share that was estimated keeps the most that it may be while another field is changed', () => {
  const find = findOf({ kind: 'find', id: 'f', flags: [], deleted: false, fields: { at: '2026-06-10T10:00:00Z', taxon: 'x', share: { part: 0.05, low: 0.03, high: 0.12, how: 'squares' } } });
  const w = writtenOf(find);
  assert.equal(askedOf(find, { ...w, note: 'more' }).share.high, 0.12);
  assert.deepEqual(askedOf(find, { ...w, share: '6' }).share, { part: 0.06, how: 'eye' });
});

test('of two later names of one second the one with the greater id is the last, as the core has it', () => {
  const at = '2026-06-10T10:00:00Z';
  for (const ids of [['a', 'b'], ['b', 'a']]) {
    const fields = { at, taxon: 'x', ...Object.fromEntries(ids.map((id) => [`identified/${id}`, { at, taxon: id }])) };
    assert.equal(findOf({ kind: 'find', id: 'f', flags: [], deleted: false, fields }).taxon, 'b');
  }
});

test('whoever took something has a line in the tally, of the party or not', () => {
  assert.deepEqual(partyOf(outing, members, ['ada', 'stranger']).map(({ id, as }) => [id, as]), [['ada', 'adult'], ['kid', 'child'], ['stranger', '']]);
  assert.deepEqual(partyOf(undefined, members, ['kid']).map(({ id, as }) => [id, as]), [['kid', 'child']]);
  assert.deepEqual(partyOf(outing, members, []).map(({ id }) => id), ['ada', 'kid']);
});
