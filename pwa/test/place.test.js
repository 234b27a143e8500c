// Distance and bearing. On a sphere of radius R a degree of a great circle is πR/180; with
// the IUGG mean radius of 6371.0088 km that is 111.195 km.

import test from 'node:test';
import assert from 'node:assert/strict';
import { lies } from '../app/data/place.js';

const DEGREE_KM = 111.19508;

test('along meridians and the equator', () => {
  const rows = [
    ['a degree north', [0, 0], [1, 0], 1, 0],
    ['a degree south', [50, 10], [49, 10], 1, 180],
    ['a degree east on the equator', [0, 20], [0, 21], 1, 90],
    ['a degree west on the equator', [0, 20], [0, 19], 1, 270],
    ['east over the 180th meridian', [0, 179.5], [0, -179.5], 1, 90],
    ['over the pole', [89, 0], [89, 180], 2, 0],
    ['half around', [0, 0], [0, 180], 180, 90],
  ];
  for (const [name, [lat, lon], [toLat, toLon], degrees, bearing] of rows) {
    const { distanceKm, bearingDeg } = lies({ lat, lon }, { lat: toLat, lon: toLon });
    assert.ok(Math.abs(distanceKm - degrees * DEGREE_KM) < 0.001 * degrees, `${name}: ${distanceKm} km`);
    assert.ok(Math.abs(((bearingDeg - bearing + 540) % 360) - 180) < 1e-6, `${name}: ${bearingDeg}°`);
  }
});

test('nothing between a place and itself', () => {
  assert.equal(lies({ lat: 37.8, lon: -122.4 }, { lat: 37.8, lon: -122.4 }).distanceKm, 0);
});
