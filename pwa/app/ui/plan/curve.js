// The curve of the water as points and paths. Nothing here but arithmetic.

/** @typedef {{startMs: number, stepMs: number, mm: Int32Array}} Curve heights above chart datum in millimetres */
/** @typedef {[number, number]} Point an instant in milliseconds, and metres */

/**
 * The curve from an answer of the core's heights.
 * @param {{time: string, height: number}[]} heights
 * @param {number} stepMs
 * @returns {Curve}
 */
export function curveOf(heights, stepMs) {
  return {
    startMs: heights.length ? Date.parse(heights[0].time) : 0, stepMs,
    mm: Int32Array.from(heights, (h) => Math.round(h.height * 1000)),
  };
}

/** @param {Curve} curve @param {number} i @returns {Point} */
const point = (curve, i) => [curve.startMs + i * curve.stepMs, curve.mm[i] / 1000];

/**
 * The points of a piece of the curve, its ends on straight lines between the points
 * beside them. Empty where the curve does not reach.
 * @param {Curve} curve
 * @param {number} fromMs
 * @param {number} toMs
 * @returns {Point[]}
 */
export function piece(curve, fromMs, toMs) {
  const last = curve.startMs + (curve.mm.length - 1) * curve.stepMs;
  const [from, to] = [Math.max(fromMs, curve.startMs), Math.min(toMs, last)];
  if (!(to > from)) return [];
  /** @type {Point[]} */
  const points = [[from, heightAt(curve, from)]];
  for (let i = Math.floor((from - curve.startMs) / curve.stepMs) + 1; curve.startMs + i * curve.stepMs < to; i++) points.push(point(curve, i));
  points.push([to, heightAt(curve, to)]);
  return points;
}

/**
 * Metres on the straight line between two heights, for drawing; water.js is exact.
 * @param {Curve} curve
 * @param {number} ms within the curve
 */
function heightAt(curve, ms) {
  const x = (ms - curve.startMs) / curve.stepMs;
  const i = Math.min(Math.floor(x), curve.mm.length - 2);
  return (curve.mm[i] + (curve.mm[i + 1] - curve.mm[i]) * (x - i)) / 1000;
}

/**
 * The stretches of points under a level, with the crossings put in.
 * @param {Point[]} points
 * @param {number} level metres
 * @returns {Point[][]}
 */
export function under(points, level) {
  /** @type {Point[][]} */
  const stretches = [];
  /** @type {Point[]} */
  let open = [];
  points.forEach((now, i) => {
    const before = points[i - 1];
    if (before && before[1] < level !== now[1] < level) {
      const share = (level - before[1]) / (now[1] - before[1]);
      open.push([before[0] + (now[0] - before[0]) * share, level]);
    }
    if (now[1] < level) open.push(now);
    else if (open.length) {
      stretches.push(open);
      open = [];
    }
  });
  if (open.length) stretches.push(open);
  return stretches;
}

/**
 * How points stand on a drawing.
 * @typedef {{x: (ms: number) => number, y: (metres: number) => number}} Scale
 */

/** @param {Point[]} points @param {Scale} scale */
export function line(points, { x, y }) {
  return points.map(([ms, m], i) => `${i ? 'L' : 'M'}${round(x(ms))} ${round(y(m))}`).join('');
}

/**
 * The area between points and a level.
 * @param {Point[]} points
 * @param {number} level metres
 * @param {Scale} scale
 */
export function area(points, level, scale) {
  if (!points.length) return '';
  const y = round(scale.y(level));
  return `${line(points, scale)}L${round(scale.x(points[points.length - 1][0]))} ${y}L${round(scale.x(points[0][0]))} ${y}Z`;
}

/** @param {number} v to the tenth of a pixel */
const round = (v) => Math.round(v * 10) / 10;

/**
 * The least and the greatest height, in metres.
 * @param {Curve} curve
 */
export function reach(curve) {
  let [low, high] = [Infinity, -Infinity];
  for (const mm of curve.mm) {
    if (mm < low) low = mm;
    if (mm > high) high = mm;
  }
  return { low: low / 1000, high: high / 1000 };
}

/**
 * What of [from, to) no stretch covers: the night from the light.
 * @param {{from: string, to: string}[]} stretches in order
 * @param {number} fromMs
 * @param {number} toMs
 * @returns {[number, number][]}
 */
export function gaps(stretches, fromMs, toMs) {
  /** @type {[number, number][]} */
  const found = [];
  let at = fromMs;
  for (const { from, to } of stretches) {
    const [begin, end] = [Date.parse(from), Date.parse(to)];
    if (end <= at || begin >= toMs) continue;
    if (begin > at) found.push([at, begin]);
    at = end;
  }
  if (at < toMs) found.push([at, toMs]);
  return found;
}
