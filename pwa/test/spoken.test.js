// A position read aloud. A degree has 60 minutes; the places are whole multiples of that, and
// NOAA's station 9414290, which its page gives as 37° 48.4′ N, 122° 27.9′ W (from memory:
// confirm) and the catalogue in degrees.

import test from 'node:test';
import assert from 'node:assert/strict';
import { degreesAndMinutes, spoken, written } from '../app/ui/shore/spoken.js';

test('degrees and minutes', () => {
  const rows = /** @type {const} */ ([
    [48.5, 'lat', '48° 30.000′ N'], [-4.25, 'lon', '4° 15.000′ W'], [-36.75, 'lat', '36° 45.000′ S'], [174.1, 'lon', '174° 06.000′ E'],
    [0, 'lat', '0° 00.000′ N'], [-0.01, 'lat', '0° 00.600′ S'], [180, 'lon', '180° 00.000′ E'],
    [37.8066667, 'lat', '37° 48.400′ N'], [-122.465, 'lon', '122° 27.900′ W'],
  ]);
  for (const [degrees, axis, want] of rows) assert.equal(written(degrees, axis), want);
});

test('sixty minutes are the next degree', () => {
  assert.equal(written(47.9999999, 'lat'), '48° 00.000′ N');
  assert.equal(written(-9.99999999, 'lon'), '10° 00.000′ W');
});

test('every thousandth of a minute comes back within half of one', () => {
  for (let i = 0; i < 4000; i++) {
    const degrees = -90 + i * 0.0449987;
    const { degrees: whole, minutes, side } = degreesAndMinutes(degrees, 'lat');
    const back = (whole + Number(minutes) / 60) * (side === 'S' ? -1 : 1);
    assert.ok(Math.abs(back - degrees) <= 0.0005001 / 60, `${degrees} became ${back}`);
    assert.ok(Number(minutes) < 60);
  }
});

test('digit by digit', () => {
  assert.equal(spoken(48.35575, 'lat'), 'four eight degrees, two one point three four five minutes north');
  assert.equal(spoken(-122.0015, 'lon'), 'one two two degrees, zero zero point zero nine zero minutes west');
});
