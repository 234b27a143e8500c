// The water between kept heights. Nothing here but arithmetic.

/**
 * The height in metres at an instant by cubic interpolation between the four heights
 * around it, and its rate in metres an hour; undefined outside the kept span.
 *
 * Cubic Lagrange interpolation in the middle of four nodes errs by at most
 * 3/128 · h⁴ · |d⁴y/dt⁴|. With h of 10 minutes that is 0.006 mm for a semidiurnal wave of
 * 5 m (0.506 rad/h) and 0.11 mm for a sixth-diurnal one of 1 m (1.57 rad/h): less than
 * the rounding to the millimetre.
 * @param {{startMs: number, stepMs: number, mm: Int32Array}} heights
 * @param {number} atMs
 * @returns {{heightM: number, rateMPerHour: number} | undefined}
 */
export function waterAt(heights, atMs) {
  const x = (atMs - heights.startMs) / heights.stepMs;
  const i = Math.floor(x);
  if (!(i >= 1 && i + 2 < heights.mm.length)) return undefined;
  const t = x - i;
  const [a, b, c, d] = [heights.mm[i - 1], heights.mm[i], heights.mm[i + 1], heights.mm[i + 2]];
  const mm = (a * -t * (t - 1) * (t - 2)) / 6 + (b * (t + 1) * (t - 1) * (t - 2)) / 2
    + (c * -(t + 1) * t * (t - 2)) / 2 + (d * (t + 1) * t * (t - 1)) / 6;
  const perStep = (a * -(3 * t * t - 6 * t + 2)) / 6 + (b * (3 * t * t - 4 * t - 1)) / 2
    + (c * -(3 * t * t - 2 * t - 2)) / 2 + (d * (3 * t * t - 1)) / 6;
  return { heightM: mm / 1000, rateMPerHour: (perStep / 1000) * (3_600_000 / heights.stepMs) };
}
