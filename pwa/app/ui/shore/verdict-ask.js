// The question to the rules on file about a find, real or imagined. Nothing here but data.

/** @typedef {import('../../data/shore-record.js').Shore} Shore */
/** @typedef {import('./outing.js').Outing} Outing */

/**
 * What is asked about: fields of a find as its record has them.
 * @typedef {object} Asked
 * @property {string} [id] '' or none for one that is not saved
 * @property {string} [at] none for now
 * @property {string | null} [by]
 * @property {string} taxon
 * @property {string} group
 * @property {string} state
 * @property {{value: number, unit: string} | null} amount
 * @property {any} [size]
 * @property {any} [mass]
 * @property {any} [container]
 * @property {any} [position]
 * @property {any} [putBack]
 */

/**
 * @typedef {object} Around
 * @property {Shore | undefined} shore
 * @property {string} zone of the shore, or of this phone
 * @property {Outing | undefined} outing
 * @property {{started: string | null, shore: string}[]} visits of the household, of every shore
 * @property {import('../../data/book.js').Rec[]} members
 * @property {Record<string, boolean>} answers by the id of the question
 */

/**
 * A find that is on file, as the rules are asked about it.
 * @param {import('./find.js').Find} find
 */
export const askedOfFind = ({ id, fields, outing, shore, by, taxon, group, state, amount, position, putBack }) => ({
  id, at: fields.at, outing, shore, by, taxon, group, state, amount, position, putBack, size: fields.size, mass: fields.mass, container: fields.container,
});

/** The fields of a find that rules read, beside when, where and by whom. */
const READ = /** @type {const} */ (['taxon', 'group', 'state', 'amount', 'size', 'mass', 'container', 'position', 'putBack']);

/** As internal/core has it. */
const MOST_VISITS = 1000;

/**
 * @param {Asked} find
 * @param {Around} around
 */
export function verdictAsk(find, { shore, zone, outing, visits, members, answers }) {
  return {
    find: {
      id: find.id ?? '', outing: outing?.id ?? '', shore: shore?.id ?? '', by: find.by ?? '', fate: 'taken',
      ...Object.fromEntries(READ.filter((name) => find[name] != null && find[name] !== '').map((name) => [name, find[name]])),
    },
    shore: shoreAsk(shore, zone, visits),
    party: partyAsk(outing, members, find.by),
    purpose: outing?.purpose ?? 'home',
    answers,
  };
}

/**
 * A shore as the rules see it.
 * @param {Shore | undefined} shore
 * @param {string} zone
 * @param {Around['visits']} visits
 */
export function shoreAsk(shore, zone, visits) {
  if (!shore) return { zone };
  const at = visits.filter((one) => one.started && one.shore === shore.id).map(({ started }) => started).slice(0, MOST_VISITS);
  return {
    lat: shore.lat, lon: shore.lon, zone: shore.zone, station: shore.station, visits: at,
    ...(shore.differences ? { differences: shore.differences } : {}),
  };
}

/**
 * Who goes, with what rules ask of persons; without an outing whoever takes it.
 * @param {Outing | undefined} outing
 * @param {Around['members']} members
 * @param {string | null} [by]
 */
export function partyAsk(outing, members, by) {
  const named = new Map(members.map(({ id, fields }) => [id, fields]));
  const alone = by && named.has(by) ? [{ id: by, as: named.get(by)?.age === 'child' ? 'child' : 'adult', does: 'gathers', name: '' }] : [];
  return (outing?.party.length ? outing.party : alone).map(({ id, as, does }) => ({ id, as, does }));
}
