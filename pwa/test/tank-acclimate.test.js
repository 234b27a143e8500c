// An acclimation that runs is instants alone: whoever opens it, and whenever, sees the same.

import test from 'node:test';
import assert from 'node:assert/strict';
import { acclimationTyped, newlyRead, tenderest } from '../app/ui/tanks/acclimate-typed.js';
import { countdown, keptOf, runMs, stagesOf, standing, stepTimes, stopped } from '../app/ui/tanks/acclimate-stages.js';

const steps = [0, 30, 60, 75].map((minute, i) => ({ minute, salinity: 28 + i, tempC: 14, volumeL: 2, mlMin: i < 3 ? 7 + i : 0, dropsMin: i < 3 ? 140 + 20 * i : 0 }));
const plan = { way: 'drip', floatMin: 20, hurry: null, batch: null, gap: 4, water: 'boil', drips: [{ discard: true, steps, minutes: 75, waterL: 1, containerL: 2, left: 1 }, { discard: false, steps: steps.slice(0, 2), minutes: 30, waterL: 3, containerL: 5, left: 1 }] };
const sides = { bag: { salinity: 28, tempC: 18, volumeL: 2 }, tank: { salinity: 32, tempC: 14 }, to: ['tank'] };
const T0 = Date.UTC(2026, 10, 25, 17);
const iso = (/** @type {number} */ min) => new Date(T0 + min * 60_000).toISOString();
const kept = (/** @type {any} */ more = {}) => ({ ...keptOf(plan, true, sides), ...more });

test('the stages are those that the plan needs', () => {
  assert.deepEqual(stagesOf({ way: 'drip', hurry: false, floatMin: 20 }), ['float', 'drip', 'in']);
  assert.deepEqual(stagesOf({ way: 'drip', hurry: true, floatMin: 20 }), ['prepare', 'over', 'float', 'drip', 'in']);
  assert.deepEqual(stagesOf({ way: 'match', hurry: false, floatMin: 0 }), ['in']);
  assert.deepEqual(stagesOf({ way: 'batch', hurry: false, floatMin: 15 }), ['prepare', 'in']);
});

test('one run of the plan is kept, the one that was chosen', () => {
  assert.equal(kept().steps.length, 4);
  const filled = keptOf(plan, false, sides);
  assert.deepEqual([filled.discard, filled.steps.length, filled.minutes], [false, 2, 30]);
  assert.deepEqual(JSON.parse(JSON.stringify(kept())), kept(), 'it survives being written down');
});

test('before, floating, dripping, over: by the instants alone', () => {
  assert.deepEqual([standing(kept(), T0).stage, standing(kept(), T0).next], [null, 'float']);
  const floats = kept({ marks: { float: iso(0) } });
  assert.deepEqual([standing(floats, T0 + 5 * 60_000).dueMs, standing(floats, T0 + 5 * 60_000).late], [15 * 60_000, false]);
  assert.equal(standing(floats, T0 + 25 * 60_000).late, true);
  const drips = kept({ marks: { float: iso(0), drip: iso(20) } });
  for (const [minute, step, due] of /** @type {const} */ ([[20, 0, 30], [49.9, 0, 0.1], [50, 1, 30], [80, 2, 15], [94, 2, 1]])) {
    const is = standing(drips, T0 + minute * 60_000);
    assert.equal(is.step, step, `${minute} min`);
    assert.ok(Math.abs((is.dueMs ?? 0) - due * 60_000) < 1, `${minute} min`);
  }
  const over = standing(drips, T0 + 96 * 60_000);
  assert.deepEqual([over.step, over.late, over.next], [3, true, 'in']);
});

test('while the drip stands still nothing moves on, and afterwards the times have', () => {
  const still = kept({ marks: { drip: iso(0) }, stops: [[iso(10), null]] });
  assert.equal(stopped(still), true);
  assert.equal(runMs(still, 'drip', T0 + 55 * 60_000), 10 * 60_000);
  assert.equal(standing(still, T0 + 55 * 60_000).step, 0);
  const again = kept({ marks: { drip: iso(0) }, stops: [[iso(10), iso(25)]] });
  assert.equal(stopped(again), false);
  assert.deepEqual(stepTimes(again, T0).map((ms) => (ms - T0) / 60_000), [0, 45, 75, 90]);
  assert.equal(standing(again, T0 + 44 * 60_000).step, 0);
  assert.equal(standing(again, T0 + 45 * 60_000).step, 1);
});

test('a clock that is set back shows no time below nothing', () => {
  assert.equal(runMs(kept({ marks: { drip: iso(0) } }), 'drip', T0 - 60_000), 0);
  assert.deepEqual([countdown(-5), countdown(61_000), countdown(3_661_000)], ['0:00', '1:01', '1:01:01']);
});

const numbers = { groups: {
  crabs: { salinityPerHour: { is: 2 }, cPerHour: { is: 4 }, dripMin: { is: 45 } }, browns: { salinityPerHour: { is: 2 }, cPerHour: { is: 2 }, dripMin: { is: 0 } },
  shrimps: { salinityPerHour: { is: 1 }, cPerHour: { is: 4 }, dripMin: { is: 60 } } }, unsure: { salinityPerHour: { is: 1 }, cPerHour: { is: 1 }, dripMin: { is: 60 } } };

test('who bears least sets the pace for all, and the household’s own numbers before the usual ones', () => {
  assert.deepEqual(tenderest(['crabs'], numbers, {}), { group: 'crabs' });
  assert.deepEqual(tenderest(['crabs', 'shrimps'], numbers, {}), { group: 'shrimps' });
  assert.deepEqual(tenderest(['shrimps', 'browns'], numbers, {}), { group: 'shrimps', cHour: 2 });
  assert.deepEqual(tenderest(['crabs', 'nobody knows'], numbers, {}).group, 'nobody knows');
  assert.deepEqual(tenderest(['crabs'], numbers, { crabs: { salinityPerHour: 0.5 } }), { group: 'crabs', salinityHour: 0.5 });
});

const typed = {
  'bag.volume': '2', 'bag.salinity': '28', 'bag.instrument': 'refractometer', 'bag.scale': 'ppt', 'bag.sampleC': '', 'bag.temperatureC': '18', 'bag.pH': '', 'bag.ammoniaMgNL': '', 'bag.ammoniaMgNL.as': 'NH4', hours: '',
  'tank.volume': '40', 'tank.salinity': '34', 'tank.instrument': 'refractometer', 'tank.scale': 'ppt', 'tank.sampleC': '', 'tank.temperatureC': '14', 'tank.pH': '', 'pH.scale': 'NBS', containerL: '', drops: '',
};

test('what is missing is named, what is wrong is refused, and else the core is asked', () => {
  assert.deepEqual(acclimationTyped({ ...typed, 'bag.salinity': '', 'tank.volume': '' }).missing, ['bag.salinity', 'tank.volume']);
  assert.equal(acclimationTyped({ ...typed, 'bag.salinity': '' }).request, undefined);
  assert.deepEqual(Object.keys(acclimationTyped({ ...typed, 'bag.volume': '-2', containerL: '1', drops: '9.5' }).wrong), ['bag.volume', 'drops']);
  assert.deepEqual(Object.keys(acclimationTyped({ ...typed, containerL: '1' }).wrong), ['containerL']);
  assert.deepEqual(Object.keys(acclimationTyped({ ...typed, 'bag.temperatureC': '64' }).ask), ['bag.temperatureC']);
  assert.deepEqual(acclimationTyped({ ...typed, drops: '96' }).request, {
    bag: { volumeL: 2, salinity: { value: 28, instrument: 'refractometer', scale: 'ppt', sampleC: null }, temperatureC: 18 }, tank: { volumeL: 40, salinity: { value: 34, instrument: 'refractometer', scale: 'ppt', sampleC: null }, temperatureC: 14 }, dropsIn5mL: 96,
  });
});

test('only what was typed anew of a tank is a reading of now', () => {
  const was = { 'tank.salinity': '34', 'tank.scale': 'ppt', 'tank.instrument': 'refractometer', 'tank.sampleC': '', 'tank.temperatureC': '14', 'tank.pH': '8.1', 'pH.scale': 'NBS' };
  const tank = { volumeL: 12, salinity: { value: 34, instrument: 'refractometer', scale: 'ppt', sampleC: null }, temperatureC: 12, pH: { value: 8.1, scale: 'NBS' } };
  assert.deepEqual(newlyRead(was, was, tank), {});
  assert.deepEqual(newlyRead(was, { ...was, 'tank.temperatureC': '12' }, tank), { temperatureC: 12 }, 'a salinity of last month is not read again by that');
  assert.deepEqual(newlyRead(was, { ...was, 'tank.scale': 'SG 20/20' }, tank), { salinity: tank.salinity }, 'the scale is part of a salinity');
  assert.deepEqual(newlyRead({ ...was, 'tank.pH': '' }, { ...was, 'tank.pH': '' }, { salinity: tank.salinity, temperatureC: 12 }), {});
});
