// What the rules on file are told of a shore, whatever is asked of them. Nothing here but data.

/** @typedef {{started: string | null, shore: string}} Visit */

/** As internal/core has it. */
const MOST_VISITS = 1000;

/** @param {{closure: number, text: number} | null | undefined} staleDays for how long a check counts */
export const daysAsk = (staleDays) => (staleDays ? { textDays: staleDays.text, closureDays: staleDays.closure } : {});

/**
 * @param {import('./shore-record.js').Shore} shore
 * @param {Visit[]} visits of the household, of every shore, the latest first
 */
export const shoreAsk = ({ id, lat, lon, zone, station, differences }, visits) => ({
  id, lat, lon, zone, station, visits: visits.filter((one) => one.started && one.shore === id).map(({ started }) => started).slice(0, MOST_VISITS),
  ...(differences ? { differences } : {}),
});

/**
 * The shores of which a set says that they lie in its place, or that they do not; null where
 * nobody has said of any. Of a shore in neither list, such as one made later, it is not known.
 * @param {Record<string, any>} fields
 * @param {boolean} [lies]
 * @returns {string[] | null}
 */
export function shoresOf(fields, lies = true) {
  const named = Object.entries(fields).filter(([name, is]) => name.startsWith('shores/') && is != null);
  return named.length > 0 ? named.filter(([, is]) => is === lies).map(([name]) => name.slice('shores/'.length)) : null;
}

/**
 * The outings that were begun.
 * @param {import('./book.js').Rec[]} outings
 * @returns {Visit[]} the latest first
 */
export const visitsOf = (outings) => outings.filter(({ fields, deleted }) => !deleted && fields.started?.at)
  .map(({ fields }) => ({ started: fields.started.at, shore: fields.shore })).sort((a, b) => (a.started < b.started ? 1 : -1));
