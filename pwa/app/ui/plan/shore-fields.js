// The form of a shore as text and as values: what people write, what it must be.

import { fresh } from '../../data/shore-record.js';
import { lies } from '../../data/place.js';
import { knowsZone } from '../parts/when.js';
import { text } from '../../text/en.js';

/** @typedef {import('../../data/shore-record.js').Shore} Shore */

/** What each field starts with, as text. */
export const empty = {
  name: '', below: '', wayOff: '', cutOff: 'yes', margin: String(fresh.margin), walkOut: String(fresh.walkOut), travel: String(fresh.travel),
  escape: '', swellLimit: '', markerWhat: '', markerHeight: '', night: '', wayIn: '', wayOut: '',
  highMinutes: '', lowMinutes: '', highMetres: '', lowMetres: '', lat: '', lon: '', zone: '',
};

/** @typedef {keyof typeof empty} Field */
/** @typedef {Record<Field, string>} Written */

/**
 * The bounds of the numbers. Those that the core has (internal/window) are the core's;
 * the tide of a shore and that of its station are apart by hours and metres at the most.
 * @type {Record<string, [number, number]>}
 */
export const bounds = {
  below: [-20, 20], wayOff: [-20, 20], swellLimit: [0, 20], markerHeight: [-20, 20],
  margin: [0, 180], walkOut: [0, 180], travel: [0, 1440],
  highMinutes: [-720, 720], lowMinutes: [-720, 720], highMetres: [-10, 10], lowMetres: [-10, 10],
  lat: [-90, 90], lon: [-180, 180],
};

const MOST_NAME = 80;
const MOST_NOTE = 1000;
const MOST_MARKER = 120;

/**
 * A number as people write it: a point or a comma, any of the signs that stand for minus;
 * undefined if it is none.
 * @param {string} written
 */
export function number(written) {
  const tidy = written.trim().replace(',', '.').replace(/^[−–]/, '-');
  return /^[-+]?(\d{1,4}(\.\d{0,6})?|\.\d{1,6})$/.test(tidy) ? Number(tidy) + 0 : undefined;
}

/** @param {number | null | undefined} value */
const written = (value) => (value === null || value === undefined ? '' : String(value).replace('-', '−'));

/**
 * A shore as the form shows it.
 * @param {Shore} shore
 * @returns {Written}
 */
export function write(shore) {
  const { differences: d } = shore;
  const own = shore.distanceKm !== null; // a position of its own
  return {
    name: shore.name, below: written(shore.below), wayOff: written(shore.wayOff), cutOff: shore.cutOff ? 'yes' : 'no',
    margin: written(shore.margin), walkOut: written(shore.walkOut), travel: written(shore.travel),
    escape: shore.escape, swellLimit: written(shore.swellLimit),
    markerWhat: shore.marker?.what ?? '', markerHeight: written(shore.marker?.heightM), night: shore.night ?? '', wayIn: shore.wayIn, wayOut: shore.wayOut,
    highMinutes: written(d?.minutes[0]), lowMinutes: written(d?.minutes[1]), highMetres: written(d?.heights[0]), lowMetres: written(d?.heights[1]),
    lat: own ? written(shore.lat) : '', lon: own ? written(shore.lon) : '', zone: shore.zone,
  };
}

/**
 * What the form says, as a shore, or what is wrong with it by field.
 * @param {Written} w
 * @param {any} station the core's answer to 'station', or a stub of it; undefined if none is chosen
 * @param {string} id of the shore
 * @param {Shore} [before] the shore as it was
 * @returns {{shore?: Shore, wrong: Record<string, string>}}
 */
export function read(w, station, id, before) {
  const t = text.form;
  /** @type {Record<string, string>} */
  const wrong = {};

  /**
   * @param {Field} field
   * @param {string} need what to write
   * @param {(least: string, most: string) => string} outside
   * @param {boolean} [whole]
   * @returns {number | null} null where it is empty or wrong
   */
  const take = (field, need, outside, whole) => {
    if (w[field].trim() === '') return null;
    const value = number(w[field]);
    const [least, most] = bounds[field];
    if (value === undefined || (whole && !Number.isInteger(value))) wrong[field] = need;
    else if (value < least || value > most) wrong[field] = outside(written(least), written(most));
    else return value;
    return null;
  };
  const metres = (/** @type {Field} */ field) => take(field, field === 'below' ? t.needBelow : t.needMetres, t.metresBounds);
  const minutes = (/** @type {Field} */ field) => take(field, t.needMinutes, t.minutesBounds, true);
  /** @param {Field} field */
  const needed = (field) => {
    const value = minutes(field);
    if (value === null) wrong[field] ??= t.needMinutes;
    return value ?? 0;
  };
  /** @param {Field} field @param {number} most */
  const words = (field, most) => {
    if (w[field].trim().length > most) wrong[field] = t.tooLong(most);
    return w[field].trim();
  };

  if (!station) wrong.station = t.needStation;
  const name = words('name', MOST_NAME) || station?.name || '';
  const below = metres('below');
  if (below === null) wrong.below ??= t.needBelow;
  const wayOff = metres('wayOff');
  const margin = needed('margin');
  const walkOut = needed('walkOut');
  const travel = needed('travel');
  const escape = words('escape', MOST_NOTE);
  const swellLimit = metres('swellLimit');
  const markerWhat = words('markerWhat', MOST_MARKER);
  const markerHeight = metres('markerHeight');
  if (markerWhat && markerHeight === null) wrong.markerHeight ??= t.needMarkerHeight;
  if (!markerWhat && markerHeight !== null) wrong.markerWhat ??= t.needMarkerWhat;
  const wayIn = words('wayIn', MOST_NOTE);
  const wayOut = words('wayOut', MOST_NOTE);
  const later = [minutes('highMinutes'), minutes('lowMinutes')];
  const higher = [metres('highMetres'), metres('lowMetres')];
  const lat = take('lat', text.chooser.needLat, () => text.chooser.needLat);
  const lon = take('lon', text.chooser.needLon, () => text.chooser.needLon);
  if (!wrong.lat && !wrong.lon && (lat === null) !== (lon === null)) wrong[lat === null ? 'lat' : 'lon'] = t.both;
  const zone = w.zone.trim() || station?.zone || '';
  if (station && zone !== station.zone && !knowsZone(zone)) wrong.zone = t.needZone;
  if (Object.keys(wrong).length > 0) return { wrong };

  const differs = [...later, ...higher].some((value) => value !== null && value !== 0);
  const own = lat !== null && lon !== null ? { lat, lon } : undefined;
  return {
    wrong,
    shore: {
      id, name, station: station.id, stationName: station.name, place: station.place || station.country, source: station.source,
      datum: station.datum, release: station.release, zone, ...(own ?? { lat: station.lat, lon: station.lon }),
      distanceKm: !own ? null : station.stub ? before?.distanceKm ?? null : Math.round(lies(own, station).distanceKm * 10) / 10,
      below: /** @type {number} */ (below), wayOff, cutOff: w.cutOff !== 'no', margin, walkOut, travel, escape, swellLimit, wayIn, wayOut,
      marker: markerWhat && markerHeight !== null ? { what: markerWhat, heightM: markerHeight } : null,
      night: w.night === 'allowed' || w.night === 'forbidden' ? w.night : null,
      differences: differs ? { minutes: [later[0] ?? 0, later[1] ?? 0], heights: [higher[0] ?? 0, higher[1] ?? 0], heightsAre: 'metres' } : null,
    },
  };
}
