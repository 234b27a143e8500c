// What a shore is, and which of its values are one field. Nothing here but data.

/**
 * Heights are metres above the station's chart datum, times minutes.
 * @typedef {object} Shore
 * @property {string} id UUIDv7
 * @property {string} name
 * @property {string} station the station's id
 * @property {string} stationName
 * @property {string} place where the station is, in words
 * @property {string} source whose constants the station's are
 * @property {string} datum what its heights count from; '' if that is not on file
 * @property {string} release of the catalogue that the heights were set with; '' if that is not on file
 * @property {string} zone IANA name
 * @property {number} lat degrees, north positive
 * @property {number} lon degrees, east positive
 * @property {number | null} distanceKm from the shore to the station; null if not known
 * @property {number} below the shore is bare below this height
 * @property {number | null} wayOff the way back is cut at this height; null if unknown
 * @property {boolean} cutOff whether the shore can be cut off
 * @property {number} margin kept before the way back is cut
 * @property {number} walkOut what the slowest needs to walk out
 * @property {number} travel from home to the shore
 * @property {string} escape a way of escape
 * @property {number | null} swellLimit metres; null if none is set
 * @property {string} wayIn notes on the way in
 * @property {string} wayOut notes on the way out
 * @property {Differences | null} differences of its own waters from the station's
 * @property {{what: string, heightM: number} | null} marker a rock and the height at which the sea reaches its top; null if none is set
 * @property {'allowed' | 'forbidden' | null} night whether gathering when it is dark is allowed; null if unknown
 * @property {boolean} [deleted]
 */

/**
 * Minutes later and metres higher, at high water and at low water.
 * @typedef {{minutes: [number, number], heights: [number, number], heightsAre: 'metres'}} Differences
 */

/** What a new shore starts with. Margin and walk out are the core's own defaults. */
export const fresh = {
  cutOff: true, margin: 20, walkOut: 15, travel: 0, escape: '', swellLimit: null, wayIn: '', wayOut: '',
  differences: null, distanceKm: null, wayOff: null, marker: null, night: null,
};

/** Values that mean something only together are one field of a change. */
const together = {
  basis: ['station', 'stationName', 'place', 'source', 'datum', 'release', 'differences', 'below', 'wayOff'],
  place: ['lat', 'lon', 'zone', 'distanceKm'],
};
const alone = ['name', 'cutOff', 'margin', 'walkOut', 'travel', 'escape', 'swellLimit', 'wayIn', 'wayOut', 'marker', 'night', 'deleted'];

/** @typedef {Record<string, any>} Fields of a change */

/**
 * The fields of a shore as changes name them.
 * @param {Shore} shore
 * @returns {Fields}
 */
export function fieldsOf(shore) {
  /** @type {Fields} */
  const fields = {};
  const values = /** @type {Record<string, any>} */ (shore);
  for (const [name, keys] of Object.entries(together)) {
    fields[name] = Object.fromEntries(keys.map((key) => [key, values[key] ?? null]));
  }
  for (const key of alone) if (values[key] !== undefined) fields[key] = values[key];
  return fields;
}

/**
 * The fields in which after differs from before.
 * @param {Shore} before
 * @param {Shore} after
 */
export function changed(before, after) {
  const was = fieldsOf(before);
  return Object.fromEntries(Object.entries(fieldsOf(after)).filter(([name, value]) => JSON.stringify(value) !== JSON.stringify(was[name])));
}

/**
 * A shore with the fields of a change set.
 * @param {Shore} shore
 * @param {Fields} fields
 * @returns {Shore}
 */
export function apply(shore, fields) {
  const { basis, place, ...rest } = fields;
  return { ...shore, ...basis, ...place, ...rest };
}
