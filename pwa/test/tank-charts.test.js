// Points of the charts: what counts, where it stands, what is nearest to a finger.

import test from 'node:test';
import assert from 'node:assert/strict';
import { extent, nearest, pointsOf, spanStart, SPANS, ticks } from '../app/ui/tanks/chart-points.js';

const at = (/** @type {number} */ day) => new Date(Date.UTC(2026, 10, day)).toISOString();
const ranges = { keeps: { salinityLow: 32, salinityHigh: 36, lowC: 10, highC: 16 }, targets: { alkalinity: { low: 7, high: 11, unit: 'dKH' } } };
const readings = [
  { id: 'c', sample: { at: at(20), of: 'tank/1' }, temperatureC: 17, salinity: { value: 34 } }, { id: 'a', sample: { at: at(2), of: 'tank/1' }, temperatureC: 9, alkalinity: { value: 3, unit: 'meq/L' } },
  { id: 'b', sample: { at: at(11), of: 'tank/1' }, temperatureC: 12 }, { id: 'd', sample: { at: at(1), of: 'tank/1' }, pH: { value: 8.1, scale: 'NBS' } }, { id: 'e', sample: { at: at(12), of: 'tank/1' }, temperatureC: null },
];
const never = () => undefined;

test('the points of a kind, the earliest first, each as it stands to its range', () => {
  const points = pointsOf('temperatureC', readings, ranges, Date.parse(at(1)), never);
  assert.deepEqual(points.map(({ id, is, stands }) => [id, is, stands]), [['a', 9, 'low'], ['b', 12, 'in'], ['c', 17, 'high']]);
  assert.equal(pointsOf('temperatureC', readings, ranges, Date.parse(at(5)), never).length, 2, 'what is before the span is left out');
  assert.equal(pointsOf('salinity', readings, ranges, 0, never).length, 0, 'what is not reckoned is no point');
  assert.deepEqual(pointsOf('salinity', readings, ranges, 0, () => ({ salinity: 35.5, least: 34.5, most: 36.5 })).map(({ stands }) => stands), ['doubt']);
  assert.ok(Math.abs(pointsOf('alkalinity', readings, ranges, 0, never)[0].is - 8.4) < 0.05, 'shown in the unit of its range');
});

test('the spans are a month, a quarter and a year', () => {
  assert.deepEqual(SPANS, { month: 30, quarter: 91, year: 365 });
  assert.equal(spanStart(Date.parse(at(25)), 'month'), Date.parse(at(25)) - 30 * 86_400_000);
});

test('a drawing shows every point with its doubt, and round figures beside it', () => {
  const points = pointsOf('salinity', readings, ranges, 0, () => ({ salinity: 35.5, least: 34.5, most: 36.5 }));
  const [low, high] = extent(points, [32, 36]);
  assert.ok(low < 34.5 && high > 36.5);
  const flat = extent(pointsOf('temperatureC', [readings[2]], ranges, 0, never));
  assert.ok(flat[0] < 12 && flat[1] > 12, 'one point has room');
  assert.deepEqual(ticks(7.85, 8.45).map(({ words }) => words), ['8.0', '8.2', '8.4']);
  assert.deepEqual(ticks(-1, 1).map(({ words }) => words), ['−1.0', '−0.5', '0.0', '0.5', '1.0']);
  assert.ok(ticks(0, 1e-9).length <= 6);
});

test('a finger reads the nearest point', () => {
  const points = pointsOf('temperatureC', readings, ranges, 0, never);
  for (const [day, id] of /** @type {const} */ ([[1, 'a'], [6, 'a'], [8, 'b'], [30, 'c']])) assert.equal(points[nearest(points, Date.parse(at(day)))].id, id);
});
