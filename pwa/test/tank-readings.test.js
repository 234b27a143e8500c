// Readings as they are typed. The factors from a kit's result to nitrogen are those that water
// laboratories print: ammonium × 0.7765 and ammonia × 0.8224 (as N), nitrite × 0.3045, nitrate
// × 0.2259, phosphorus × 3.066 (as PO4); 1 meq/L is 2.8 degrees of German hardness. 59 °F is
// 15 °C, and a US gallon 3.785411784 L (NIST SP 811, appendix B.8).

import test from 'node:test';
import assert from 'node:assert/strict';
import { alkalinityIn } from '../app/ui/tanks/reading-kinds.js';
import { readingOf } from '../app/ui/tanks/reading-typed.js';
import { rangeOf, rangeWords, stands } from '../app/ui/tanks/tank-ranges.js';
import { timeTyped, typedTime } from '../app/ui/tanks/tank-time.js';
import { asCelsius, asLitres, degrees, figure, grams, inVolume, litres, typedNumber } from '../app/ui/tanks/tank-units.js';
import { showIn } from '../app/text/unit.js';

const empty = {
  salinity: '', instrument: 'refractometer', scale: 'ppt', sampleC: '', temperatureC: '', pH: '', 'pH.scale': 'NBS', ammoniaMgNL: '', 'ammoniaMgNL.as': 'N', nitriteMgNL: '', 'nitriteMgNL.as': 'N',
  nitrateMgNL: '', 'nitrateMgNL.as': 'N', phosphateMgL: '', 'phosphateMgL.as': 'PO4', alkalinity: '', 'alkalinity.as': 'dKH', oxygenMgL: '',
};
const said = (/** @type {Record<string, string>} */ typed) => readingOf({ ...empty, ...typed });

test('what is good goes into the book, and nothing else', () => {
  assert.deepEqual(said({}), { fields: {}, wrong: {}, ask: {} });
  assert.deepEqual(said({ salinity: '33,5', temperatureC: '−0.5', pH: '8.1' }), {
    fields: { salinity: { value: 33.5, instrument: 'refractometer', scale: 'ppt', sampleC: null }, temperatureC: -0.5, pH: { value: 8.1, scale: 'NBS' } }, wrong: {}, ask: {},
  });
});

for (const [name, typed, field] of /** @type {[string, Record<string, string>, string][]} */ ([
  ['salinity 90', { salinity: '90' }, 'salinity'], ['a negative salinity', { salinity: '-1' }, 'salinity'], ['a specific gravity of 1.25', { salinity: '1.25', scale: 'SG 25/25' }, 'salinity'],
  ['pH 15', { pH: '15' }, 'pH'], ['pH 0', { pH: '0' }, 'pH'], ['a negative nitrate', { nitrateMgNL: '-3' }, 'nitrateMgNL'], ['nitrite of 101', { nitriteMgNL: '101' }, 'nitriteMgNL'], ['no figure', { alkalinity: 'high' }, 'alkalinity'],
  ['a temperature of 300', { temperatureC: '300' }, 'temperatureC'], ['a conductivity without its temperature', { salinity: '50', instrument: 'conductivity', scale: 'mS/cm' }, 'sampleC'],
])) {
  test(`${name} is refused with a sentence`, () => {
    const { fields, wrong, ask } = said(typed);
    assert.deepEqual(Object.keys(wrong), [field]);
    assert.match(wrong[field], /^([A-Z]|pH ).{12,}[.?]$/);
    assert.deepEqual(ask, {});
    assert.equal(fields[field], undefined);
  });
}

for (const [name, typed, field, set] of /** @type {[string, Record<string, string>, string, Record<string, string>][]} */ ([
  ['59 °C', { temperatureC: '59' }, 'temperatureC', { temperatureC: '15.0' }], ['a sample of 77 °C', { salinity: '1.025', instrument: 'hydrometer', scale: 'SG 60F/60F', sampleC: '77' }, 'sampleC', { sampleC: '25.0' }],
  ['33 on a scale of specific gravity', { salinity: '33', scale: 'SG 20/20' }, 'salinity', { scale: 'ppt' }], ['1.025 in ppt', { salinity: '1.025' }, 'salinity', { scale: 'SG unknown' }], ['1025', { salinity: '1025', scale: 'SG 25/25' }, 'salinity', { salinity: '1.025' }],
])) {
  test(`${name} is asked about, and "yes" makes it good`, () => {
    const first = said(typed);
    assert.deepEqual(Object.keys(first.ask), [field]);
    assert.deepEqual(first.ask[field].set, set);
    assert.deepEqual(first.wrong, {});
    const second = said({ ...typed, ...first.ask[field].set });
    assert.deepEqual([second.ask, second.wrong], [{}, {}]);
  });
}

test('in Fahrenheit, 15 is asked about: 15 °C are 59 °F', () => {
  showIn('imperial');
  assert.deepEqual(said({ temperatureC: '15' }).ask.temperatureC.set, { temperatureC: '59.0' });
  assert.equal(said({ temperatureC: '59' }).fields.temperatureC, 15);
  assert.equal(degrees(15), '59.0 °F');
  assert.equal(asLitres(10), 37.854118);
  assert.equal(litres(3.785411784), '1 US gal');
  assert.equal(inVolume(37.85411784), '10');
  assert.equal(asCelsius(32), 0);
  showIn('metric');
});

for (const [kind, as, factor] of /** @type {const} */ ([['ammoniaMgNL', 'NH4', 0.7765], ['ammoniaMgNL', 'NH3', 0.8224], ['nitriteMgNL', 'NO2', 0.3045], ['nitrateMgNL', 'NO3', 0.2259], ['phosphateMgL', 'P', 3.066]])) {
  test(`a kit's ${as} is kept as the book keeps it`, () => {
    assert.ok(Math.abs(said({ [kind]: '10', [`${kind}.as`]: as }).fields[kind] / 10 - factor) < 0.0005);
    assert.equal(said({ [kind]: '10' }).fields[kind], 10);
  });
}

test('a reading stands within, below, above its range, or in doubt', () => {
  assert.equal(stands(34, [32, 36]), 'in');
  assert.equal(stands(31.9, [32, 36]), 'low');
  assert.equal(stands(36.1, [32, 36]), 'high');
  assert.equal(stands(35.5, [32, 36], { least: 34.5, most: 36.5 }), 'doubt');
  assert.equal(stands(35.5, undefined), 'none');
  const ranges = { keeps: { salinityLow: 32, salinityHigh: 36, lowC: 10, highC: 16 }, targets: { alkalinity: { low: 7, high: 11, unit: 'dKH' } } };
  assert.deepEqual(rangeOf('temperatureC', ranges), [10, 16]);
  assert.equal(rangeOf('pH', ranges), undefined);
  assert.equal(rangeWords('temperatureC', [10, 16]), '10 to 16 °C');
  assert.equal(rangeWords('nitrateMgNL', [0, 2.5]), '0 to 2.5 mg N/L');
  assert.ok(Math.abs(alkalinityIn({ value: 2.8, unit: 'dKH' }, 'meq/L') - 1) < 0.005);
  assert.ok(Math.abs(alkalinityIn({ value: 1, unit: 'meq/L' }, 'dKH') - 2.8) < 0.01);
});

test('figures, masses and times as they are typed', () => {
  assert.deepEqual(['', ' 1,5 ', '−2', '.5', '1e3', '0x1'].map(typedNumber), [undefined, 1.5, -2, 0.5, NaN, NaN]);
  assert.equal(figure(-0.04, 1), '0.0');
  assert.equal(figure(-1.25, 1), '−1.3');
  assert.deepEqual([grams(358.2), grams(1049)], ['358 g', '1.05 kg']);
  assert.equal(litres(0.25), '250 mL');
  // Berlin goes from 2:00 to 3:00 on 29 March 2026, and from 3:00 back to 2:00 on 25 October.
  for (const [typed, utc] of [['2026-11-25T18:05', '2026-11-25T17:05:00.000Z'], ['2026-03-29T01:30', '2026-03-29T00:30:00.000Z'], ['2026-03-29T03:30', '2026-03-29T01:30:00.000Z'], ['2026-10-25T12:00', '2026-10-25T11:00:00.000Z'], ['2026-07-01T00:00', '2026-06-30T22:00:00.000Z']]) {
    assert.equal(new Date(timeTyped(typed, 'Europe/Berlin')).toISOString(), utc);
    assert.equal(typedTime(Date.parse(utc), 'Europe/Berlin'), typed);
  }
  assert.ok(Number.isNaN(timeTyped('yesterday', 'UTC')));
});
