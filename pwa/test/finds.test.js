// What the pages of finds reckon: amounts, what was met lately, what is left alone, totals,
// and the form as a change.

import test from 'node:test';
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { amountOf, stepped } from '../app/ui/shore/amount.js';
import { findOf, leaveIt, statesOf, takenOf } from '../app/ui/shore/find.js';
import { changesOf, read, writtenOf } from '../app/ui/shore/find-fields.js';
import { recentOf } from '../app/ui/shore/recent.js';
import { search } from '../app/ui/parts/kind-search.js';

const list = JSON.parse(readFileSync(new URL('../../internal/book/taxa.json', import.meta.url), 'utf8'));

test('amounts as typed', () => {
  const rows = [
    ['a count', '3', 'count', 3], ['none of it', '0', 'count', 0], ['half a crab', '1.5', 'count', undefined], ['a comma', '2,5', 'g', 2.5], ['the most', '100000', 'g', 100000],
    ['more than that', '100001', 'g', undefined], ['less than none', '-1', 'g', undefined], ['nothing', '', 'count', undefined], ['words', 'three', 'count', undefined],
  ];
  for (const [name, written, unit, want] of rows) assert.equal(amountOf(written, unit), want, name);
});

test('a touch on the stepper', () => {
  const rows = [['one more', '1', 'count', 1, '2'], ['never under one', '1', 'count', -1, '1'], ['to the tens', '34', 'g', 1, '40'], ['down to the tens', '34', 'g', -1, '30'], ['out of nothing', 'x', 'count', 1, '1'], ['not over the most', '100000', 'g', 1, '100000']];
  for (const [name, written, unit, by, want] of rows) assert.equal(stepped(written, unit, by), want, name);
});

test('what is left where it is', () => {
  const plain = { hurts: false, controlled: false, invasive: null };
  const rows = [
    ['an alga', { taxon: 'Ulva lactuca', group: 'greens', state: 'attached' }, plain, ''],
    ['an empty shell', { taxon: 'Patella vulgata', group: 'snails', state: 'empty' }, plain, ''],
    ['an animal that lives', { taxon: 'Patella vulgata', group: 'snails', state: 'living' }, plain, 'alive'],
    ['an animal washed up may live', { taxon: 'Carcinus maenas', group: 'crabs', state: 'drift' }, plain, 'alive'],
    ['a stone with life on it', { taxon: 'a pebble', group: 'rock', state: 'attached' }, undefined, 'alive'],
    ['what nobody knows', { taxon: 'unsure', group: 'greens', state: 'drift' }, undefined, 'unsure'],
    ['a kind without a group', { taxon: 'Novum quid', group: 'unsure', state: 'empty' }, undefined, 'unsure'],
    ['a controlled kind, even empty', { taxon: 'x', group: 'snails', state: 'empty' }, { ...plain, controlled: true }, 'controlled'],
    ['one that spreads', { taxon: 'x', group: 'greens', state: 'drift' }, { ...plain, invasive: ['MED'] }, 'invasive'],
    ['one that hurts, empty', { taxon: 'x', group: 'snails', state: 'empty' }, { ...plain, hurts: true }, 'hurts'],
  ];
  for (const [name, find, listed, want] of rows) assert.equal(leaveIt(find, listed), want, name);
  // No animal of the starting list is offered for the taking alive.
  const algae = new Set(['greens', 'reds', 'browns', 'calcareous', 'shells']);
  const animals = list.taxa.filter(({ group }) => !algae.has(group));
  assert.ok(animals.length > 40);
  for (const one of animals) assert.notEqual(leaveIt({ taxon: one.name, group: one.group, state: statesOf(one.group)[0] }, one), '', one.name);
});

test('every group has states of life, the first a sensible one', () => {
  for (const { id } of list.groups) assert.ok(statesOf(id).length >= 2, id);
  assert.equal(statesOf('shells')[0], 'empty');
  assert.equal(statesOf('reds')[0], 'attached');
  assert.equal(statesOf('crabs')[0], 'living');
});

const rec = (id, fields) => ({ kind: 'find', id, fields: { at: '2026-08-01T09:00:00Z', taxon: 'Ulva lactuca', group: 'greens', ...fields }, flags: [], deleted: fields.deleted === true });

test('a later identification stands over the first', () => {
  const find = findOf(rec('1', {
    taxon: 'unsure', group: 'unsure', 'identified/b': { at: '2026-08-03T09:00:00Z', by: null, taxon: 'Fucus serratus', group: 'browns' },
    'identified/a': { at: '2026-08-02T09:00:00Z', by: null, taxon: 'Fucus spiralis', group: 'browns' }, 'identified/c': null, 'photos/aa': true, 'photos/bb': null,
  }));
  assert.equal(find.taxon, 'Fucus serratus');
  assert.equal(find.first, 'unsure');
  assert.equal(find.identified.length, 2);
  assert.deepEqual(find.photos, ['aa']);
});

test('totals leave out what was only seen and what went back', () => {
  const taken = (fields) => findOf(rec('1', { fate: 'taken', ...fields }));
  const sums = takenOf([
    taken({ amount: { value: 3, unit: 'count' } }), taken({}), findOf(rec('2', { fate: 'seen', amount: { value: 9, unit: 'count' } })),
    taken({ amount: { value: 5, unit: 'count' }, putBack: { at: '2026-08-01T10:00:00Z', by: null, amount: { value: 2, unit: 'count' } } }),
    taken({ amount: { value: 4, unit: 'count' }, putBack: { at: '2026-08-01T10:00:00Z', by: null } }), taken({ amount: { value: 120.5, unit: 'g' } }),
  ]);
  assert.deepEqual(sums, [{ unit: 'count', value: 7 }, { unit: 'g', value: 120.5 }]);
});

test('what was met lately, this shore first', () => {
  const at = (shore, taxon, more = {}) => rec('x', { shore, taxon, ...more });
  const found = recentOf([at('here', 'A'), at('there', 'B'), at('here', 'C'), at('there', 'D'), at('here', 'A'), at('here', 'unsure'), at('here', 'E', { deleted: true })], 'here');
  assert.deepEqual(found.map(({ taxon }) => taxon), ['A', 'C', 'D', 'B']);
});

test('a form that was not touched changes nothing, a touched one only that', () => {
  const find = findOf(rec('1', { amount: { value: 2, unit: 'count' }, fate: 'seen', state: 'drift', note: 'under a ledge', size: { mm: 12, axis: 'shell' }, 'photos/aa': true }));
  const before = writtenOf(find);
  assert.deepEqual(changesOf(find, before, read(before).fields), {});
  const after = { ...before, value: '3', photos: ['bb'], massG: '4,5', sizeMm: '' };
  assert.deepEqual(changesOf(find, before, read(after).fields), { amount: { value: 3, unit: 'count' }, mass: { g: 4.5, weighed: 'wet' }, size: null, 'photos/aa': null, 'photos/bb': true });
  assert.deepEqual(Object.keys(read({ ...before, value: 'x', massG: '-', candidates: 'a\nb\nc\nd\ne\nf\ng' }).wrong).sort(), ['amount', 'candidates', 'massG']);
});

test('search by any part of either name', () => {
  const names = (typed) => search(typed, list.taxa).map(({ name }) => name);
  assert.ok(names('sea lett').includes('Ulva lactuca'));
  assert.ok(names('LACTUCA').includes('Ulva lactuca'));
  assert.equal(names('fucus')[0].split(' ')[0], 'Fucus');
  assert.deepEqual(names('   '), []);
  assert.deepEqual(names('no such thing at all'), []);
});
