// The flat grid of finds against published lengths of a degree on WGS 84: the series that the
// US mapping agency printed, 111132.92 − 559.82 cos 2φ + 1.175 cos 4φ − 0.0023 cos 6φ north and
// 111412.84 cos φ − 93.5 cos 3φ + 0.118 cos 5φ east, and the table in kilometres that
// encyclopaedias print (from memory but for 0° and 90°).

import test from 'node:test';
import assert from 'node:assert/strict';
import { barM, degreeM, flat } from '../app/ui/shore/plot-grid.js';

test('a degree north and east against the published series', () => {
  let [worst, count] = [0, 0];
  for (let lat = -85; lat <= 85; lat += 5) {
    const f = (lat * Math.PI) / 180;
    const north = 111132.92 - 559.82 * Math.cos(2 * f) + 1.175 * Math.cos(4 * f) - 0.0023 * Math.cos(6 * f);
    const east = 111412.84 * Math.cos(f) - 93.5 * Math.cos(3 * f) + 0.118 * Math.cos(5 * f);
    const found = degreeM(lat);
    worst = Math.max(worst, Math.abs(found.north - north), Math.abs(found.east - east));
    count++;
  }
  assert.equal(count, 35);
  assert.ok(worst < 0.1, `worst ${worst} m a degree`); // its terms are printed to 0.1 m, a millionth of a degree
});

test('degrees as they are printed', () => {
  const rows = [[0, 110.574, 111.320], [15, 110.649, 107.550], [30, 110.852, 96.486], [45, 111.132, 78.847], [60, 111.412, 55.800], [75, 111.618, 28.902], [90, 111.694, 0]];
  for (const [lat, north, east] of rows) {
    assert.ok(Math.abs(degreeM(lat).north / 1000 - north) < 0.00051, `north at ${lat}°: ${degreeM(lat).north}`);
    assert.ok(Math.abs(degreeM(lat).east / 1000 - east) < 0.00051, `east at ${lat}°: ${degreeM(lat).east}`);
  }
});

test('east and north of the middle, also over the 180th meridian', () => {
  const { at } = flat([{ lat: 60, lon: 179.999 }, { lat: 60.001, lon: -179.999 }]);
  assert.ok(Math.abs(at[1].eastM - at[0].eastM - 0.002 * 55_800) < 0.01, `${at[1].eastM - at[0].eastM}`);
  assert.ok(Math.abs(at[0].eastM + at[1].eastM) < 1e-6, 'the middle lies between them');
  assert.ok(at[1].northM > 0 && at[0].northM < 0);
});

test('the error that is told covers the error that is made', () => {
  let count = 0;
  for (const lat of [0, 20, 50, 70, -55]) {
    for (const high of [0.002, 0.02, 0.05]) {
      // Two finds a step apart on the parallel furthest north, and one far south of them.
      const points = [{ lat: lat + high, lon: 10 }, { lat: lat + high, lon: 10.001 }, { lat: lat - high, lon: 10 }, { lat: lat - high, lon: 10.001 }];
      const { at, errorPercent } = flat(points);
      for (const [a, b] of [[0, 1], [2, 3]]) {
        const drawn = at[b].eastM - at[a].eastM;
        const real = 0.001 * degreeM(points[a].lat).east;
        const percent = 100 * Math.abs(drawn / real - 1);
        assert.ok(percent <= Math.max(0.1, Math.ceil(errorPercent * 10) / 10), `${lat}, ${high}: ${percent} % made, ${errorPercent} % told`);
        count++;
      }
    }
  }
  assert.equal(count, 30);
});

test('the bar is round and at most a third', () => {
  for (const [width, bar] of [[60, 20], [100, 20], [299, 50], [300, 100], [3000, 1000], [20, 5], [2, 0.5]]) assert.equal(barM(width), bar, `${width} m`);
});

test('nothing to draw', () => assert.deepEqual(flat([]), { at: [], errorPercent: 0 }));
