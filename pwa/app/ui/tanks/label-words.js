// The words of a label, from what is on file.

import { UNSURE, called } from '../parts/kinds.js';
import { dayName, daysBetween, localDay } from '../parts/when.js';
import { factsOf, lotCode } from './label-facts.js';
import { originOf } from './hand-on-trace.js';
import { events, nameOf, picture, specimenOf, specimens, systemOf, zone } from './picture-state.js';
import { isWeed } from './settle-in.js';
import { paper } from '../../text/en-tank-paper.js';

/**
 * "6 Nov 2026".
 * @param {string} is YYYY-MM-DD
 */
const day = (is) => dayName(is, '').slice(4);

/** @typedef {{id: string, title: string, kind: string, lot: string, watched: string, handed: string, stays: string, care: string[], never: string, rid: string}} LabelWords */

/**
 * Where a specimen stands for labels: handed on, or may be, or stays here. Undefined for what
 * is gone otherwise.
 * @param {string} id
 * @returns {'handed' | 'may' | 'stays' | undefined}
 */
export function standing(id) {
  const state = specimenOf(id)?.state;
  if (state?.gone) return state.gone === 'given away' ? 'handed' : undefined;
  return state && !picture.value?.stale && state.handOn.length === 0 ? 'may' : 'stays';
}

/**
 * @param {string} id
 * @param {{how: 'none' | 'words' | 'shore', region: string}} origin what it may say of where it comes from
 * @returns {LabelWords | undefined}
 */
export function labelOf(id, origin) {
  const t = paper.labels;
  const one = specimenOf(id);
  const today = picture.value?.day;
  if (!one || !today) return undefined;
  const facts = factsOf(id, { specimens: specimens.value, events: events.value, zone: zone.value, today });
  const kind = one.taxon === UNSURE ? '' : one.taxon;
  const name = String(one.name || (kind ? called(kind) : t.unidentified));
  const from = origin.how === 'words' ? origin.region.trim() : origin.how === 'shore' ? originOf(id)?.shore ?? '' : '';
  const at = standing(id);
  return {
    id, title: name, kind: !kind ? (name === t.unidentified ? '' : t.unidentified) : kind === name ? '' : kind,
    lot: [t.lot(lotCode(facts.lot)), from && t.from(from)].filter(Boolean).join(', '),
    watched: watchedOf(one, facts, today), handed: facts.left && at === 'handed' ? t.handedOn(day(facts.left)) : '',
    stays: at === 'stays' ? t.staysHere : '', care: paper.care[one.group] ?? paper.care.unsure, never: t.never, rid: one.state?.handOn.some((word) => word === 'stopped' || word === 'controlled') ? t.ridAsk : isWeed(one.group) ? t.ridWeed : t.ridAnimal, // a frozen weed is safely gone; for an animal others decide
  };
}

/**
 * How long it was watched, as far as the book says so.
 * @param {NonNullable<ReturnType<typeof specimenOf>>} one
 * @param {ReturnType<typeof factsOf>} facts
 * @param {string} today
 */
function watchedOf(one, facts, today) {
  const t = paper.labels;
  const { arrived, left, days = 0 } = facts;
  const cleared = facts.cleared ?? (one.state?.cleared ? localDay(Date.parse(one.state.cleared), zone.value) : undefined);
  if (!arrived) return t.arrivedNot;
  const system = one.state?.system ? systemOf(one.state.system)?.state : undefined;
  if (!left && system?.state === 'stopped') return t.stopped;
  if (!left && system?.state === 'done') return t.watchedAll(system.wait, day(today));
  if (!left && system && system.state !== 'none') return t.watching(system.quiet, system.wait, day(today));
  // Whether the clearance stands: a lot that is gone is no longer asked about, but what was put in question stays so.
  const doubted = one.state?.gone ? picture.value?.systems.some(({ questions }) => questions.some(({ specimen }) => specimen && facts.line.includes(specimen))) : (one.state?.missing.length ?? 1) > 0;
  if (cleared) return (doubted ? t.quarantineOnly : t.quarantine)(day(arrived), day(cleared), Math.max(0, daysBetween(arrived, cleared)));
  return t.withUs(day(arrived), day(left ?? today), days);
}

/** @param {string} id */
export const labelName = (id) => nameOf(`specimen/${id}`);
