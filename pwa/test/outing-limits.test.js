// Nothing that is seen on the shore ever moves a limit later.

import test from 'node:test';
import assert from 'node:assert/strict';
import { limitsOf, THUNDER_MINUTES } from '../app/ui/shore/outing.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const T0 = Date.parse('2026-12-12T12:00:00Z');
const at = (ms) => new Date(ms).toISOString();

/** A small generator (mulberry32), so that a failure can be had again by its seed. */
function random(seed) {
  return () => {
    seed = (seed + 0x6d2b79f5) | 0;
    let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** A tide that is known by arithmetic: 1 - cos, low at T0, 12 h 25 from low to low. */
const PERIOD = 12 * HOUR + 25 * MINUTE;
const tide = (ms) => 1 - Math.cos((2 * Math.PI * (ms - T0)) / PERIOD);
function rises(level, fromMs) {
  for (let ms = fromMs; ms <= fromMs + 24 * HOUR; ms += MINUTE) if (tide(ms) >= level) return ms;
  return Infinity;
}
const unknown = () => undefined;

test('nothing seen ever moves a limit later, whatever was seen before', () => {
  let moved = 0;
  for (let seed = 1; seed <= 4000; seed++) {
    const r = random(seed);
    const now = T0 + (r() * 8 - 4) * HOUR;
    const startBack = T0 + (r() * 4 - 2) * HOUR;
    const walkOut = Math.floor(r() * 60);
    const wayOff = r() < 0.3 ? null : r() * 2.4 - 0.2;
    const margin = Math.floor(r() * 40);
    const water = r() < 0.2 ? unknown : rises;
    // Also from phones whose clocks are ahead.
    const when = () => now + (r() * 6 - 5) * HOUR;
    const sighting = () => ({ id: '', atMs: when(), seenM: r() * 2, predictedM: r() * 2, lateMin: null });
    const outing = {
      planned: r() < 0.2 ? null : { from: at(T0), to: at(T0), startBack: at(startBack), offBy: at(startBack + walkOut * MINUTE) },
      higher: Array.from({ length: Math.floor(r() * 3) }, sighting).sort((a, b) => a.atMs - b.atMs),
      thunderMs: Array.from({ length: Math.floor(r() * 4) }, when).sort((a, b) => a - b),
    };
    const more = r() < 0.5
      ? { ...outing, higher: [...outing.higher, sighting()].sort((a, b) => a.atMs - b.atMs) }
      : { ...outing, thunderMs: [...outing.thunderMs, when()].sort((a, b) => a - b) };
    const before = limitsOf(outing, walkOut, water, wayOff, margin, now);
    const after = limitsOf(more, walkOut, water, wayOff, margin, now);
    if (!before) continue;
    assert.ok(after, `seed ${seed}: the limits are gone`);
    assert.ok(after.startBackMs <= before.startBackMs && after.offByMs <= before.offByMs, `seed ${seed}: ${JSON.stringify({ before, after })}`);
    if (after.startBackMs < before.startBackMs || after.offByMs < before.offByMs) moved++;
  }
  assert.ok(moved > 500, `something is brought forward in many of them: ${moved}`);
});

const planned = { from: at(T0 - HOUR), to: at(T0 + HOUR), startBack: at(T0 + 40 * MINUTE), offBy: at(T0 + 60 * MINUTE) };
const plain = { planned, higher: [], thunderMs: [] };

test('without anything seen, the plan holds; without a plan, nothing is made up', () => {
  assert.deepEqual(limitsOf(plain, 20, rises, 1, 10, T0), { startBackMs: T0 + 40 * MINUTE, offByMs: T0 + 60 * MINUTE, why: 'plan' });
  assert.equal(limitsOf({ ...plain, planned: null }, 20, rises, 1, 10, T0), undefined);
  assert.equal(limitsOf({ ...plain, planned: { ...planned, startBack: null } }, 20, rises, 1, 10, T0), undefined);
});

test('the sea 0.5 m higher cuts the way back when half a metre less is predicted, less the margin', () => {
  const higher = [{ id: '', atMs: T0, seenM: 0.5, predictedM: 0, lateMin: null }];
  // 1 - cos is 0.1 at acos(0.9) = 0.45103 of a turn's radian: 0.45103 / 2π of 745 min, 53.5 min after low.
  const limits = limitsOf({ ...plain, higher }, 20, rises, 0.6, 10, T0);
  assert.ok(Math.abs(limits.offByMs - (T0 + 43.5 * MINUTE)) <= MINUTE, at(limits.offByMs));
  assert.equal(limits.offByMs - limits.startBackMs, 20 * MINUTE);
  assert.equal(limits.why, 'higher');
});

test('higher, and nobody knows when the way back is cut: start back at once', () => {
  const higher = [{ id: '', atMs: T0, seenM: 0.5, predictedM: 0.2, lateMin: null }];
  for (const [water, wayOff] of [[rises, null], [unknown, 1]]) {
    assert.deepEqual(limitsOf({ ...plain, higher }, 20, water, wayOff, 10, T0 + MINUTE), { startBackMs: T0, offByMs: T0 + 20 * MINUTE, why: 'higher' });
    assert.equal(limitsOf({ planned: null, higher, thunderMs: [] }, 20, water, wayOff, 10, T0)?.startBackMs, T0, 'also without a plan');
  }
});

test('as high as predicted, or lower, changes nothing', () => {
  for (const seenM of [0.2, 0.1, -1]) {
    const higher = [{ id: '', atMs: T0, seenM, predictedM: 0.2, lateMin: 0 }];
    assert.equal(limitsOf({ ...plain, higher }, 20, rises, 1, 10, T0)?.why, 'plan');
  }
});

test('thunder: leave at the first clap; thirty minutes after the last, the plan holds again', () => {
  const claps = (minutes, now) => limitsOf({ ...plain, thunderMs: minutes.map((m) => T0 + m * MINUTE) }, 20, rises, 1, 10, T0 + now * MINUTE);
  assert.equal(THUNDER_MINUTES, 30); // US National Weather Service
  for (const [name, minutes, now, startBack] of [
    ['one clap', [-30], -25, -30], ['just before the end', [-30], -0.01, -30], ['at the end', [-30], 0, 40],
    ['a second clap begins them again', [-50, -30], -10, -50], ['and they end after it', [-50, -30], 0, 40],
    ['claps further apart are two', [-90, -30], -10, -30],
  ]) {
    assert.equal((claps(minutes, now).startBackMs - T0) / MINUTE, startBack, name);
  }
  assert.equal(claps([-30], -25).offByMs, T0 - 10 * MINUTE, 'the walk out from there');
  assert.equal(limitsOf({ planned: null, higher: [], thunderMs: [T0] }, 20, rises, 1, 10, T0).why, 'thunder', 'also without a plan');
});
