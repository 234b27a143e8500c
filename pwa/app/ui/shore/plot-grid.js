// Finds on a flat grid of metres, east and north of their middle. Nothing here but
// arithmetic.

/** @typedef {{lat: number, lon: number}} Point degrees, north and east positive */

/** The ellipsoid of WGS 84: semi-major axis in metres and flattening (NGA.STND.0036). */
const A = 6_378_137;
const F = 1 / 298.257223563;
const E2 = F * (2 - F);
const RAD = Math.PI / 180;

/**
 * How many metres a degree north and a degree east are at a latitude, by the ellipsoid's radii of
 * curvature in the meridian and in the prime vertical.
 * @param {number} lat degrees
 */
export function degreeM(lat) {
  const w = 1 - E2 * Math.sin(lat * RAD) ** 2;
  return { north: ((A * (1 - E2)) / w ** 1.5) * RAD, east: (A / Math.sqrt(w)) * Math.cos(lat * RAD) * RAD };
}

/**
 * Points in metres east and north of their middle, and how far off distances on this grid
 * may be. The grid takes a degree east to be as long everywhere as at the mean latitude; off
 * it by d radians it is longer or shorter by tan(lat)·d, to first order. errorPercent is that at the
 * point furthest from it. It means nothing within half a degree of a pole.
 * @param {Point[]} points
 */
export function flat(points) {
  if (points.length === 0) return { at: [], errorPercent: 0 };
  const first = points[0].lon;
  // The finds of a shore on the 180th meridian are neighbours.
  const east = points.map(({ lon }) => ((lon - first + 540) % 360) - 180);
  const lats = points.map(({ lat }) => lat);
  const middle = (/** @type {number[]} */ list) => (Math.min(...list) + Math.max(...list)) / 2;
  const mean = lats.reduce((sum, lat) => sum + lat, 0) / lats.length;
  const degree = degreeM(mean);
  const [lat0, east0] = [middle(lats), middle(east)];
  const off = Math.max(...lats.map((lat) => Math.abs(lat - mean))) * RAD;
  return {
    at: points.map(({ lat }, i) => ({ eastM: (east[i] - east0) * degree.east, northM: (lat - lat0) * degree.north })),
    errorPercent: 100 * Math.tan(Math.min(89.5, Math.abs(mean)) * RAD) * off,
  };
}

/**
 * A round length, 1, 2 or 5 times a power of ten, of at most a third of a width.
 * @param {number} metres the width
 */
export function barM(metres) {
  const most = metres / 3;
  const power = 10 ** Math.floor(Math.log10(most));
  return [5, 2, 1].map((n) => n * power).find((length) => length <= most * (1 + 1e-9)) ?? power;
}
