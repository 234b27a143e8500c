// The drawing's arithmetic, on lines whose crossings are known by hand.

import test from 'node:test';
import assert from 'node:assert/strict';
import { area, curveOf, gaps, line, piece, reach, under } from '../app/ui/plan/curve.js';
import { spread } from '../app/ui/plan/labels.js';

const MINUTE = 60_000;
/** Falls from 2 m to 0 in two hours and rises again, a height each hour. */
const valley = { startMs: 0, stepMs: 60 * MINUTE, mm: Int32Array.of(2000, 1000, 0, 1000, 2000) };

test('a curve keeps the core’s millimetres', () => {
  const curve = curveOf([{ time: '1970-01-01T00:10:00Z', height: 0.1234 }, { time: '1970-01-01T00:20:00Z', height: -0.5 }], 10 * MINUTE);
  assert.equal(curve.startMs, 10 * MINUTE);
  assert.deepEqual([...curve.mm], [123, -500]);
  assert.deepEqual(reach(valley), { low: 0, high: 2 });
});

test('a piece ends where it is asked to, and within the curve', () => {
  assert.deepEqual(piece(valley, 30 * MINUTE, 150 * MINUTE), [[30 * MINUTE, 1.5], [60 * MINUTE, 1], [120 * MINUTE, 0], [150 * MINUTE, 0.5]]);
  assert.deepEqual(piece(valley, -60 * MINUTE, 60 * MINUTE), [[0, 2], [60 * MINUTE, 1]]);
  assert.deepEqual(piece(valley, 300 * MINUTE, 400 * MINUTE), []);
  assert.deepEqual(piece(valley, 60 * MINUTE, 60 * MINUTE), []);
});

test('stretches under a level meet it at their ends', () => {
  const whole = piece(valley, 0, 240 * MINUTE);
  assert.deepEqual(under(whole, 0.5), [[[90 * MINUTE, 0.5], [120 * MINUTE, 0], [150 * MINUTE, 0.5]]]);
  assert.deepEqual(under(whole, 0), [], 'touching is not under');
  assert.equal(under(whole, 3).length, 1, 'all of it');
  const twice = [[0, 0], [1, 1], [2, 0]];
  assert.deepEqual(under(/** @type {any} */ (twice), 0.5), [[[0, 0], [0.5, 0.5]], [[1.5, 0.5], [2, 0]]]);
});

test('paths', () => {
  const scale = { x: (ms) => ms / MINUTE, y: (m) => 10 - m };
  const points = piece(valley, 0, 120 * MINUTE);
  assert.equal(line(points, scale), 'M0 8L60 9L120 10');
  assert.equal(area(points, 1, scale), 'M0 8L60 9L120 10L120 9L0 9Z');
  assert.equal(area([], 1, scale), '');
});

test('the dark is what the light leaves', () => {
  const at = (minutes) => new Date(minutes * MINUTE).toISOString();
  const rows = [
    ['a day', [[60, 120]], [[0, 60], [120, 240]]],
    ['no light', [], [[0, 240]]],
    ['light all the time', [[-100, 900]], []],
    ['two lights', [[-10, 30], [200, 400]], [[30, 200]]],
    ['light elsewhere', [[-90, -10], [300, 400]], [[0, 240]]],
  ];
  for (const [name, lit, want] of rows) {
    const stretches = lit.map(([from, to]) => ({ from: at(from), to: at(to) }));
    assert.deepEqual(gaps(stretches, 0, 240 * MINUTE), want.map(([a, b]) => [a * MINUTE, b * MINUTE]), name);
  }
});

test('labels do not cover each other and stay within', () => {
  const rows = [[[50, 60]], [[5, 5, 5]], [[300, 300, 295]], [[100, 120, 140]], [[10, 290]]];
  for (const [wished] of rows) {
    const placed = spread(wished.map((x) => ({ x, width: 90 })), 0, 300);
    placed.forEach((label, i) => {
      assert.ok(label.x >= 45 - 1e-9 && label.x <= 255 + 1e-9, `${wished}: ${label.x}`);
      if (i > 0) assert.ok(label.x - placed[i - 1].x >= 90 - 1e-9, `${wished}`);
    });
  }
  assert.deepEqual(spread([{ x: 200, width: 20 }, { x: 50, width: 20 }], 0, 300).map((label) => label.x), [50, 200], 'free ones stay');
});
