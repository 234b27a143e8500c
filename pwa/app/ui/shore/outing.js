// An outing as its record tells it. Nothing here but reading.

/**
 * @typedef {{id: string, as: 'adult' | 'child', name: string, number?: number, with?: string,
 *   does: 'gathers' | 'comes along' | 'watches'}} Person one of the party: id is a member's or a
 *   guest's own; children have a number on their back and go with somebody (with, an id)
 */

/**
 * @typedef {object} Outing
 * @property {string} id
 * @property {string} shore id
 * @property {'home' | 'teaching' | 'trade'} purpose
 * @property {{from: string, to: string, startBack: string | null, offBy: string | null} | null} planned RFC 3339 UTC
 * @property {Person[]} party adults first, then children by their number
 * @property {{who: string, dueBack: string} | null} ashore
 * @property {string} ashoreCall
 * @property {Record<string, {at: string, fine: boolean | null, value?: number, words?: string}>} checks by their word
 * @property {{word: string, what: string, packed: boolean}[]} gear
 * @property {{word: string, what: string, litres: number | null, packed: boolean}[]} containers
 * @property {number | null} alarmsMs when the two alarms were said to be set
 * @property {number | null} startedMs
 * @property {number | null} endedMs
 * @property {{id: string, atMs: number, count: number}[]} heads earliest first
 * @property {number[]} thunderMs earliest first
 * @property {{id: string, atMs: number, seenM: number, predictedM: number, lateMin: number | null}[]} higher earliest first
 */

/**
 * @param {import('../../data/book.js').Rec} record of the kind outing
 * @returns {Outing}
 */
export function outingOf({ id, fields }) {
  /** @param {string} set @returns {[string, any][]} the elements that are in it */
  const elements = (set) => Object.entries(fields)
    .filter(([name, value]) => name.startsWith(`${set}/`) && value)
    .map(([name, value]) => [name.slice(set.length + 1), value]);
  /** @param {string} set */
  const dated = (set) => elements(set).map(([key, value]) => ({ ...value, id: key, atMs: Date.parse(value.at) })).sort((a, b) => a.atMs - b.atMs);
  const party = elements('party').map(([key, { as, name, number, with: buddy, does }]) => (
    { id: key, as, name: name ?? '', number, with: buddy, does: does ?? 'gathers' }));
  return {
    id,
    shore: fields.shore,
    purpose: fields.purpose,
    planned: fields.planned ?? null,
    party: party.sort((a, b) => (a.as === b.as ? (a.number ?? 0) - (b.number ?? 0) || a.name.localeCompare(b.name) : a.as === 'adult' ? -1 : 1)),
    ashore: fields.ashore ?? null,
    ashoreCall: fields.ashoreCall ?? '',
    checks: Object.fromEntries(elements('checks')),
    gear: elements('gear').map(([word, value]) => ({ ...value, word })),
    containers: elements('containers').map(([word, value]) => ({ ...value, word })),
    alarmsMs: instant(fields.alarms),
    startedMs: instant(fields.started),
    endedMs: instant(fields.ended),
    heads: dated('heads'),
    thunderMs: dated('thunder').map(({ atMs }) => atMs),
    higher: dated('higher'),
  };
}

/** @param {{at: string} | null | undefined} value */
const instant = (value) => (value ? Date.parse(value.at) : null);

/**
 * The newest of what is kept earliest first.
 * @template T
 * @param {T[] | undefined} list
 * @returns {T | undefined}
 */
export const lastOf = (list) => list?.[list.length - 1];

/** How long nobody goes out again after thunder, minutes: leave at the first, wait thirty after the last (US National Weather Service). */
export const THUNDER_MINUTES = 30;
/** How often heads are counted, minutes. Common practice. */
export const HEADS_MINUTES = 15;

/**
 * When a party must start back and be off the rocks. What is seen on the shore can only
 * move these earlier.
 * @typedef {object} Limits
 * @property {number} startBackMs
 * @property {number} offByMs
 * @property {'plan' | 'higher' | 'thunder'} why what they stand on
 */

/**
 * @param {Pick<Outing, 'planned' | 'higher' | 'thunderMs'>} outing
 * @param {number} walkOutMin minutes
 * @param {(level: number, fromMs: number) => number | undefined} rises the first instant, Unix ms, from
 *   fromMs on at which the predicted water stands at a level; Infinity if it comes to no
 *   such level within a day; undefined where the water is not known
 * @param {number | null} wayOffM the height at which the way back is cut
 * @param {number} marginMin kept before that
 * @param {number} nowMs
 * @returns {Limits | undefined} undefined where nothing was planned and nothing was seen
 */
export function limitsOf(outing, walkOutMin, rises, wayOffM, marginMin, nowMs) {
  const { planned } = outing;
  const walkOutMs = walkOutMin * 60_000;
  /** @type {Limits | undefined} */
  let limits = planned?.startBack && planned.offBy
    ? { startBackMs: Date.parse(planned.startBack), offByMs: Date.parse(planned.offBy), why: 'plan' } : undefined;
  for (const { atMs, seenM, predictedM } of outing.higher) {
    const raised = seenM - predictedM;
    if (raised <= 0) continue; // lower than predicted: no reason to stay longer
    const cut = wayOffM === null ? undefined : rises(wayOffM - raised, atMs);
    if (cut === Infinity) continue; // even as high as that, it does not come to cut the way back
    // Where nobody knows when it does, the sea has just shown that it is not where it should be: go.
    const offByMs = cut === undefined ? atMs + walkOutMs : cut - marginMin * 60_000;
    limits = earlier(limits, { offByMs, startBackMs: offByMs - walkOutMs, why: 'higher' });
  }
  const thunder = thunderFrom(outing.thunderMs, nowMs);
  return thunder === undefined ? limits : earlier(limits, { startBackMs: thunder, offByMs: thunder + walkOutMs, why: 'thunder' });
}

/**
 * When the thunder that still holds began: claps less than thirty minutes apart are one.
 * A clap that another phone's fast clock puts later than now counts as now.
 * @param {number[]} thunderMs earliest first
 * @param {number} nowMs
 */
function thunderFrom(thunderMs, nowMs) {
  /** @type {number | undefined} */
  let from;
  for (const clap of thunderMs.map((ms) => Math.min(ms, nowMs)).reverse()) {
    if ((from ?? nowMs) - clap >= THUNDER_MINUTES * 60_000) break;
    from = clap;
  }
  return from;
}

/** @param {Limits | undefined} a @param {Limits} b @returns {Limits} */
function earlier(a, b) {
  if (!a) return b;
  if (b.startBackMs >= a.startBackMs && b.offByMs >= a.offByMs) return a;
  return { startBackMs: Math.min(a.startBackMs, b.startBackMs), offByMs: Math.min(a.offByMs, b.offByMs), why: b.why };
}
