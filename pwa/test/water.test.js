// The water between kept heights, against functions whose values are known by arithmetic.

import test from 'node:test';
import assert from 'node:assert/strict';
import { waterAt } from '../app/data/water.js';

const STEP_MS = 600_000;

/** Keeps f (metres, of hours) as the phone does: every ten minutes, to the millimetre. */
function keep(f, n) {
  const mm = Int32Array.from({ length: n }, (_, i) => Math.round(f((i * STEP_MS) / 3_600_000) * 1000));
  return { station: 'x', core: 'x', startMs: 0, stepMs: STEP_MS, mm };
}

test('a cubic comes back exactly, with its derivative', () => {
  // In units of a step, so that every kept height is a whole millimetre.
  const cubic = (x) => 2 * x ** 3 - 7 * x ** 2 + 5 * x - 11;
  const mm = Int32Array.from({ length: 12 }, (_, i) => cubic(i));
  const heights = { station: 'x', core: 'x', startMs: 5000, stepMs: STEP_MS, mm };
  for (const x of [1, 1.25, 4.5, 7.999, 9]) {
    const got = waterAt(heights, 5000 + x * STEP_MS);
    assert.ok(Math.abs(got.heightM - cubic(x) / 1000) < 1e-12, `${x}`);
    assert.ok(Math.abs(got.rateMPerHour - (6 * (6 * x * x - 14 * x + 5)) / 1000) < 1e-9, `${x}`);
  }
});

test('a tide of 5 m and a sixth-diurnal wave of 1 m stay within the stated bound', () => {
  const tide = (h) => 5 * Math.cos(0.5059 * h) + Math.cos(1.5177 * h + 1);
  const heights = keep(tide, 400);
  // Interpolation 0.006 + 0.11 mm, rounding of the nodes at most 0.5 mm times the sum of
  // the weights' sizes, which is 1.25 in the middle of a step.
  const bound = 0.000116 + 0.0005 * 1.25;
  let worst = 0;
  let compared = 0;
  for (let ms = STEP_MS; ms < 397 * STEP_MS; ms += 47_000) {
    const h = ms / 3_600_000;
    worst = Math.max(worst, Math.abs(waterAt(heights, ms).heightM - tide(h)));
    compared++;
  }
  assert.ok(compared > 5000);
  assert.ok(worst <= bound, `${worst}`);
  assert.ok(worst > 1e-5, 'nothing was compared');
});

test('outside the kept span there is no water', () => {
  const heights = keep((h) => h, 10);
  for (const steps of [-1, 0, 0.99, 8, 9, 1e9, NaN]) assert.equal(waterAt(heights, steps * STEP_MS), undefined);
  assert.ok(waterAt(heights, 7.99 * STEP_MS));
});
