// What became of a find in the tanks, by hand.

import test from 'node:test';
import assert from 'node:assert/strict';
import { endings } from '../app/data/ended.js';

const specimen = (id, fields, deleted = false) => ({ kind: 'specimen', id, fields, flags: [], deleted });
const event = (fields, deleted = false) => ({ kind: 'event', id: JSON.stringify(fields), fields, flags: [], deleted });
const died = (of, at, more = {}) => event({ died: { of: `specimen/${of}`, at, ...more } });
const gone = (of, at) => event({ gone: { of: `specimen/${of}`, at, how: 'given away' } });

test('a find ends with the last of what came of it', () => {
  const parts = [specimen('a', { find: 'f' }), specimen('b', { lot: 'a' }), specimen('c', { lot: 'b' })];
  const all = [died('a', '2026-05-01T10:00:00Z'), gone('b', '2026-05-09T10:00:00Z'), died('c', '2026-05-03T10:00:00Z')];
  assert.deepEqual([...endings(parts, all)], [['f', '2026-05-09T10:00:00Z']]);
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
