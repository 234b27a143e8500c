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
 * The outings that were begun.
 * @param {import('./book.js').Rec[]} outings
 * @returns {Visit[]} the latest first
 */
export const visitsOf = (outings) => outings.filter(({ fields, deleted }) => !deleted && fields.started?.at)
  .map(({ fields }) => ({ started: fields.started.at, shore: fields.shore })).sort((a, b) => (a.started < b.started ? 1 : -1));
