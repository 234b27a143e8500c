// The question to the rules on file about a find, real or imagined. Nothing here but data.

import { daysAsk, shoreAsk } from '../../data/rules-ask.js';

/** @typedef {import('../../data/shore-record.js').Shore} Shore */
/** @typedef {import('./outing.js').Outing} Outing */

/**
 * What is asked about: fields of a find as its record has them.
 * @typedef {object} Asked
 * @property {string} [id] '' or none for one that is not saved
 * @property {string} [at] none for now
 * @property {string | null} [by]
 * @property {string | null} [outing] of one that is on file
 * @property {string} taxon
 * @property {string} group
 * @property {string} state
 * @property {{value: number, unit: string} | null} amount
 * @property {any} [size]
 * @property {any} [mass]
 * @property {any} [container]
 * @property {any} [position]
 * @property {any} [putBack]
 * @property {any} [gone]
 * @property {any} [gear] words
 * @property {any} [use] words
 * @property {any} [substrate] words
 * @property {any} [share] of the patch
 * @property {any} [level]
 */

/**
 * @typedef {object} Around
 * @property {Shore | undefined} shore
 * @property {string} zone of the shore, or of this phone
 * @property {Outing | undefined} outing
 * @property {import('../../data/rules-ask.js').Visit[]} visits of the household, of every shore
 * @property {import('../../data/book.js').Rec[]} members
 * @property {Record<string, boolean>} answers by the id of the question
 * @property {{closure: number, text: number} | null} [staleDays] for how long a check counts
 */

/**
 * A find that is on file, as the rules are asked about it.
 * @param {import('./find.js').Find} find
 */
export const askedOfFind = ({ id, fields, outing, shore, by, taxon, group, state, amount, position, putBack }) => ({
  id, at: fields.at, outing, shore, by, taxon, group, state, amount, position, putBack,
  size: fields.size, mass: fields.mass, container: fields.container, gone: fields.gone, gear: fields.gear, use: fields.use, substrate: fields.substrate, share: fields.share, level: fields.level,
});

/** The fields of a find that rules read, beside when, where and by whom. */
const READ = /** @type {const} */ (['taxon', 'group', 'state', 'amount', 'size', 'mass', 'container', 'position', 'putBack', 'gone', 'gear', 'use', 'substrate', 'share', 'level']);

/**
 * @param {Asked} find
 * @param {Around} around
 */
export function verdictAsk(find, { shore, zone, outing, visits, members, answers, staleDays }) {
  return {
    find: {
      id: find.id ?? '', outing: outing?.id ?? find.outing ?? '', shore: shore?.id ?? '', by: find.by ?? '', fate: 'taken',
      ...Object.fromEntries(READ.filter((name) => find[name] != null && find[name] !== '').map((name) => [name, find[name]])),
    },
    shore: shore ? shoreAsk(shore, visits) : { zone },
    party: partyAsk(outing, members, find.by),
    purpose: outing?.purpose ?? (find.outing ? '' : 'home'), // of an outing that is not on this phone it is not known
    answers,
    ...daysAsk(staleDays),
  };
}

/**
 * The party of an outing and whoever else took something: nobody's finds go without a line.
 * @param {Outing | undefined} outing
 * @param {Around['members']} members
 * @param {string[]} people ids
 */
export function partyOf(outing, members, people) {
  const going = outing?.party.length ? partyAsk(outing, members) : [];
  const others = people.filter((id) => !going.some((one) => one.id === id));
  return [...going, ...others.map((id) => partyAsk(undefined, members, id)[0] ?? { id, as: '', does: 'gathers', licences: null, rights: null, consents: null })];
}

/**
 * Who goes, with what rules ask of persons; without an outing whoever takes it.
 * @param {Outing | undefined} outing
 * @param {Around['members']} members
 * @param {string | null} [by]
 */
export function partyAsk(outing, members, by) {
  const named = new Map(members.map(({ id, fields }) => [id, fields]));
  const alone = by && named.has(by) ? [{ id: by, as: named.get(by)?.age === 'child' ? 'child' : 'adult', does: 'gathers' }] : [];
  return (outing?.party.length ? outing.party : alone).map(({ id, as, does }) => {
    const fields = named.get(id) ?? {};
    /** @param {string} set */
    const papers = (set) => {
      const held = Object.entries(fields).filter(([name, value]) => name.startsWith(`${set}/`) && value).map(([, { what, until }]) => ({ what, ...(until ? { until } : {}) }));
      return held.length > 0 ? held : null; // that the book has none is not to say that there is none
    };
    return { id, as, does, ...(fields.born ? { born: fields.born } : {}), licences: papers('licences'), rights: papers('rights'), consents: papers('consents') };
  });
}
