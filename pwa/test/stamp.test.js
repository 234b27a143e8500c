// Stamps and clocks, by the vectors that the core is held to as well.

import test from 'node:test';
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { formatStamp, makeClock, parseStamp } from '../app/data/stamp.js';

const vectors = JSON.parse(readFileSync(new URL('../../testdata/vectors/stamps.json', import.meta.url), 'utf8'));
const { a, b } = vectors.devices;
const full = (/** @type {string} */ short) => short.replace('A', a).replace('B', b);

test('the vectors are all there', () => {
  assert.ok(vectors.valid.length >= 5 && vectors.malformed.length >= 19 && vectors.ascending.length >= 9 && vectors.clocks.length >= 11);
});

test('a stamp is read and written', () => {
  for (const { stamp, ...reading } of vectors.valid) {
    assert.deepEqual(parseStamp(stamp), reading, stamp);
    assert.equal(formatStamp(reading), stamp);
  }
});

test('what is no stamp is not read', () => {
  for (const { stamp, why } of vectors.malformed) assert.equal(parseStamp(stamp), undefined, why);
});

test('stamps sort as text', () => {
  for (let i = 1; i < vectors.ascending.length; i++) assert.ok(vectors.ascending[i - 1] < vectors.ascending[i], vectors.ascending[i]);
});

for (const { name, device, last, steps } of vectors.clocks) {
  test(`clock: ${name}`, () => {
    const clock = makeClock(vectors.devices[device], full(last));
    for (const step of steps) {
      if ('hear' in step) assert.equal(clock.hear(full(step.hear), step.atMs), true);
      else assert.equal(clock.next(step.now), full(step.want));
    }
    assert.ok(parseStamp(clock.last));
  });
}

test('a clock refuses what it cannot go on from, and hears no nonsense', () => {
  assert.throws(() => makeClock('a'), RangeError);
  assert.throws(() => makeClock(a, 'x'), RangeError);
  assert.throws(() => makeClock(a, full('e677d21fdc00-0000-A')), RangeError);
  const clock = makeClock(a);
  const before = clock.last;
  for (const [stamp, at] of [['x', 10], [full('00000000000a-0000-B'), -1], [full('00000000000a-0000-B'), NaN], [full('00000000000a-0000-B'), 253402300800000]]) {
    assert.equal(clock.hear(/** @type {string} */ (stamp), /** @type {number} */ (at)), false);
  }
  assert.equal(clock.last, before);
});

test('a clock goes by the device’s own when it is given none', () => {
  const from = Date.now();
  const reading = parseStamp(makeClock(a).next());
  assert.ok(reading && reading.ms >= from && reading.ms <= Date.now());
});
