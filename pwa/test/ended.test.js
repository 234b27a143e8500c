// What became of a find in the tanks, by hand.

import test from 'node:test';
import assert from 'node:assert/strict';
import { endings, goneOf } from '../app/data/ended.js';

const specimen = (id, fields, deleted = false) => ({ kind: 'specimen', id, fields, flags: [], deleted });
const event = (fields, deleted = false) => ({ kind: 'event', id: JSON.stringify(fields), fields, flags: [], deleted });
const died = (of, at, more = {}) => event({ died: { of: `specimen/${of}`, at, ...more } });
const gone = (of, at) => event({ gone: { of: `specimen/${of}`, at, how: 'given away' } });

test('a find ends with the last of what came of it', () => {
  const parts = [specimen('a', { find: 'f' }), specimen('b', { lot: 'a' }), specimen('c', { lot: 'b' })];
  const all = [died('a', '2026-05-01T10:00:00Z'), gone('b', '2026-05-09T10:00:00Z'), died('c', '2026-05-03T10:00:00Z')];
  assert.deepEqual([...endings(parts, all)], [['f', { at: '2026-05-09T10:00:00Z', of: {} }]]);
  for (let left = 0; left < all.length; left++) {
    assert.equal(endings(parts, all.filter((_, i) => i !== left)).size, 0, `${left} is still there`);
  }
});

test('some of it, what was taken back and what nobody settled in go on counting', () => {
  const one = [specimen('a', { find: 'f' })];
  assert.equal(endings(one, []).size, 0);
  assert.equal(endings(one, [died('a', '2026-05-01T10:00:00Z', { percent: 40 })]).size, 0);
  assert.equal(endings(one, [died('a', '2026-05-01T10:00:00Z', { amount: { value: 1, unit: 'count' } })]).size, 0);
  assert.equal(endings(one, [{ ...died('a', '2026-05-01T10:00:00Z'), deleted: true }]).size, 0);
  assert.equal(endings([], [died('a', '2026-05-01T10:00:00Z')]).size, 0);
  assert.equal(endings([specimen('a', { lot: 'b' }), specimen('b', { lot: 'a' })], [died('a', '2026-05-01T10:00:00Z')]).size, 0, 'a ring of lots');
  assert.equal(endings(one, [died('a', '2026-05-01T10:00:00Z', { percent: 100 })]).size, 1);
});

test('no more is gone of a find than what is known to have come of it', () => {
  const at = '2026-05-01T10:00:00Z';
  const count = (value) => ({ value, unit: 'count' });
  const end = (...amounts) => endings(amounts.map((amount, i) => specimen(`s${i}`, { find: 'f', amount })), amounts.map((_, i) => died(`s${i}`, at))).get('f');
  const rows = [
    ['one of five was settled in and died', { amount: count(5) }, end(count(1)), { at, amount: count(1) }],
    ['all five', { amount: count(5) }, end(count(2), count(3)), { at }],
    ['two went back, three died', { amount: count(5), putBack: { at, amount: count(2) } }, end(count(3)), { at }],
    ['five were taken, and nobody said how many died', { amount: count(5) }, end(null), { at, amount: count(1) }],
    ['one was', { amount: count(1) }, end(null), { at }],
    ['nobody said how many were taken', {}, end(count(1)), { at }],
    ['by weight, settled in by number', { amount: { value: 300, unit: 'g' } }, end(count(2)), undefined],
    ['shared out among three jars', { amount: { value: 100, unit: 'g' } }, end(...[33.333, 33.333, 33.333].map((value) => ({ value, unit: 'g' }))), { at }],
  ];
  for (const [name, find, ended, want] of rows) assert.deepEqual(goneOf(find, ended), want, name);
});
