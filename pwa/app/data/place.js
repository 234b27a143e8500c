// Where one place lies from another. Nothing here but arithmetic.

/** Mean radius R1 of the Earth, km (IUGG 1980), as in internal/station/near.go. */
const RADIUS_KM = 6371.0088;
const RAD = Math.PI / 180;

/** @typedef {{lat: number, lon: number}} Point degrees, north and east positive */

/**
 * The great-circle distance and the initial bearing from one point to another. The Earth
 * is taken for a sphere: distances are within 0.6 % of those on the ellipsoid.
 * @param {Point} from
 * @param {Point} to
 * @returns {{distanceKm: number, bearingDeg: number}} bearing 0 to 360, clockwise from north
 */
export function lies(from, to) {
  const [a, b, d] = [from.lat * RAD, to.lat * RAD, (to.lon - from.lon) * RAD];
  const h = Math.sin((b - a) / 2) ** 2 + Math.cos(a) * Math.cos(b) * Math.sin(d / 2) ** 2;
  const bearing = Math.atan2(Math.sin(d) * Math.cos(b), Math.cos(a) * Math.sin(b) - Math.sin(a) * Math.cos(b) * Math.cos(d)) / RAD;
  return { distanceKm: 2 * RADIUS_KM * Math.asin(Math.min(1, Math.sqrt(h))), bearingDeg: (bearing + 360) % 360 };
}
