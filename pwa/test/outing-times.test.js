// Due back and clocks. Los Angeles is 8 hours behind UTC in winter; its clocks went back on
// 1 November 2026 at 02:00 and forward on 8 March at 02:00 (tz database).

import test from 'node:test';
import assert from 'node:assert/strict';
import { clockOf, instantOn, nextAt, proposedDueBack } from '../app/ui/shore/outing-times.js';

const LA = 'America/Los_Angeles';
const iso = (/** @type {number} */ ms) => new Date(ms).toISOString().slice(0, 16);

test('due back is off by, the way home and half an hour', () => {
  assert.equal(iso(proposedDueBack('2026-12-25T00:55:00Z', 40)), '2026-12-25T02:05');
  assert.equal(iso(proposedDueBack('2026-12-25T00:55:00Z', 0)), '2026-12-25T01:25');
});

test('a clock as people write it', () => {
  for (const [written, want] of [['17:30', '17:30'], ['7:05', '07:05'], ['0705', '07:05'], [' 17.30 ', '17:30'], ['17h30', '17:30'], ['24:00', undefined], ['17:60', undefined], ['noon', undefined], ['', undefined], ['5', undefined]]) {
    assert.equal(clockOf(/** @type {string} */ (written)), want, String(written));
  }
});

test('the instant of a clock on a local day', () => {
  assert.equal(iso(instantOn('2026-12-24', '14:05', LA)), '2026-12-24T22:05');
  assert.equal(iso(instantOn('2026-11-01', '14:05', LA)), '2026-11-01T22:05', 'the clocks have gone back');
  assert.equal(iso(instantOn('2026-11-01', '00:30', LA)), '2026-11-01T07:30', 'not yet');
  assert.equal(iso(instantOn('2026-03-08', '14:05', LA)), '2026-03-08T21:05', 'the clocks have gone forward');
  assert.equal(iso(instantOn('2026-11-01', '01:30', LA)), '2026-11-01T08:30', 'twice: the first');
  assert.equal(iso(instantOn('2026-12-24', '14:05', 'Asia/Kathmandu')), '2026-12-24T08:20');
});

test('the next time that a clock shows it', () => {
  const after = Date.parse('2026-12-25T06:30:00Z'); // 22:30
  assert.equal(iso(nextAt('23:00', after, LA)), '2026-12-25T07:00');
  assert.equal(iso(nextAt('01:00', after, LA)), '2026-12-25T09:00', 'after midnight');
  assert.equal(iso(nextAt('22:30', after, LA)), '2026-12-25T06:30', 'the same minute');
});
