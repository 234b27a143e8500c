// The form of a tank: what it writes, and what it refuses.

import test from 'node:test';
import assert from 'node:assert/strict';
import { startOf, tankTyped } from '../app/ui/tanks/tank-typed.js';
import { sumFigure } from '../app/ui/tanks/change-typed.js';
import { SUMS } from '../app/ui/tanks/tank-sums.js';

const fresh = startOf(undefined, [{ order: 3 }, { order: 7 }, {}]);

test('a new tank takes the next place on the shelf', () => {
  assert.equal(fresh.order, '8');
  assert.equal(startOf(undefined, []).order, '');
});

test('what is on file comes back as it was', () => {
  const tank = { name: 'Jar 3', use: 'quarantine', volumeL: 2.5, order: 3, keeps: { salinityLow: 32, salinityHigh: 36, lowC: 10, highC: 16.5 }, targets: { pH: { low: 7.9, high: 8.4 }, alkalinity: { low: 2.5, high: 4, unit: 'meq/L' } }, fillLine: { litresPerCm: 0.12, note: 'the tape' }, every: { topUpDays: 3 }, note: 'by the window' };
  const { fields, wrong, ask } = tankTyped(startOf(tank, []));
  assert.deepEqual([wrong, ask], [{}, {}]);
  assert.deepEqual(fields, tank);
});

for (const [name, typed, field] of /** @type {[string, Record<string, string>, string][]} */ ([
  ['no name', { name: ' ' }, 'name'], ['a name too long', { name: 'x'.repeat(81) }, 'name'], ['negative litres', { volume: '-20' }, 'volume'], ['no litres', { volume: '0' }, 'volume'], ['a place between two', { order: '1.5' }, 'order'],
  ['salinity 90', { salinityLow: '30', salinityHigh: '90', lowC: '10', highC: '12' }, 'salinityHigh'], ['one end alone', { 'pH.low': '8' }, 'pH.high'], ['the ends the wrong way round', { 'nitrateMgNL.low': '9', 'nitrateMgNL.high': '5' }, 'nitrateMgNL.high'],
  ['pH 15', { 'pH.low': '8', 'pH.high': '15' }, 'pH.high'], ['salinity without temperature', { salinityLow: '30', salinityHigh: '36' }, 'lowC'], ['half a day', { readDays: '0.5' }, 'readDays'], ['400 days', { trimDays: '400' }, 'trimDays'],
])) {
  test(`${name} is refused`, () => {
    const { wrong } = tankTyped({ ...fresh, name: 'Jar', ...typed });
    assert.deepEqual(Object.keys(wrong), [field]);
    assert.match(wrong[field], /\.$/);
  });
}

test('a range in Fahrenheit typed as Celsius is asked about', () => {
  const { ask, fields } = tankTyped({ ...fresh, name: 'Jar', salinityLow: '32', salinityHigh: '36', lowC: '50', highC: '59' });
  assert.deepEqual([ask.lowC.set, ask.highC.set], [{ lowC: '10.0' }, { highC: '15.0' }]);
  assert.equal(fields.keeps, null);
});

test('figures of a sum are bounded, and every sum has what it asks for', () => {
  for (const [kind, typed] of /** @type {const} */ ([['litres', '-1'], ['litres', '0'], ['litres', '2000000'], ['salinity', '43'], ['times', '1.5'], ['times', '101'], ['yield', '0.5'], ['pH', '15'], ['ammonia', '-1'], ['oxygen', '41'], ['cm', 'x']])) {
    const out = { fields: {}, wrong: /** @type {Record<string, string>} */ ({}), ask: {} };
    assert.equal(sumFigure('a', kind, { a: typed }, out), undefined);
    assert.match(out.wrong.a ?? '', /^([A-Z]|pH ).*\.$/, `${kind} ${typed}`);
  }
  for (const { id, takes, needed, asks } of SUMS) {
    assert.ok(needed.every((name) => name in takes), id);
    assert.equal(typeof /** @type {any} */ (asks(Object.fromEntries(Object.keys(takes).map((name) => [name, 5])))).do, 'string', id);
  }
});
