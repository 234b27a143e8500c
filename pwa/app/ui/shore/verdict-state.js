// What the rules on file say of a find, asked anew whenever the find, what was taken or the
// minute changes. Until the core has answered just that question there is no answer.

import { computed, signal, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { catalogue, state } from '../../core.js';
import { records } from '../../data/book.js';
import { keepAnswers, keptAnswers } from '../../data/finding.js';
import { visitsOf } from '../../data/rules-ask.js';
import { anyRules, counted, rulesRead, weigh } from '../../data/rules.js';
import { household } from '../../data/household.js';
import { now } from '../parts/now.js';
import { localDay } from '../parts/when.js';
import { shores } from '../plan/shore-state.js';
import { here, zoneOf } from './finds-state.js';
import { instant, outings, underWay } from './outing-state.js';
import { verdictAsk } from './verdict-ask.js';

/** @typedef {import('./verdict-ask.js').Asked} Asked */

/**
 * The core's answer to 'verdict'; see internal/take/CALLS.md.
 * @typedef {{verdict: string, text: string, household: string, spoke: any[], missing: {fact: string, text: string}[], duties: any[], putBack: string, sets: any[]}} Verdict
 */

/** No rule is on file at all: nobody need reckon to know that this is no permission. @type {Verdict} */
const NONE = { verdict: 'unchecked', text: '', household: '', spoke: [], missing: [], duties: [], putBack: 'unknown', sets: [] };

const visits = computed(() => visitsOf(records('outing').value));

/**
 * An outing that nobody ended goes on for days, answers do not.
 * @param {string | null | undefined} outing
 * @param {number} ms
 */
const dayOf = (outing, ms) => `${outing ?? ''} ${localDay(ms, zoneOf())}`;

/** What was answered on the outing under way, today. @type {import('@preact/signals').Signal<import('../../data/finding.js').Said>} */
const said = signal({ of: '', answers: {}, words: {} });
const answersOf = computed(() => dayOf(underWay.value?.id, now.value));
/** @type {import('@preact/signals').ReadonlySignal<import('../../data/finding.js').Said>} */
const saidNow = computed(() => (said.value.of === answersOf.value ? said.value : { of: answersOf.value, answers: {}, words: {} }));
export const answers = computed(() => saidNow.value.answers);
/** With what, for what and with which substrate something was taken last. */
const lastWords = computed(() => saidNow.value.words);

/**
 * Facts with the words that were said of this find; where none were, those of the last one hold.
 * @template {Pick<import('./find-fields.js').Facts, 'gear' | 'use' | 'substrate'>} F
 * @param {F} facts
 */
export function withLastWords(facts) {
  const { gear, use, substrate } = lastWords.value;
  return { ...facts, gear: facts.gear ?? gear, use: facts.use ?? use, substrate: facts.substrate ?? substrate };
}

/** @param {Partial<import('../../data/finding.js').Said>} change */
function keep(change) {
  said.value = { ...saidNow.peek(), ...change };
  keepAnswers(said.peek());
}

/** @param {{id: string, ask: string}} question @param {boolean} is */
export const answer = ({ id, ask }, is) => keep({ answers: { ...answers.peek(), [id]: is }, asked: { ...saidNow.peek().asked, [id]: ask } });

/**
 * Forgets answers to what is asked in other words by now, as where a rule was changed.
 * @param {Verdict} of
 * @returns {boolean} whether there were any
 */
function forgets({ spoke }) {
  const { answers: were, asked } = saidNow.peek();
  const old = spoke.flatMap(({ question }) => (question && question.id in were && asked?.[question.id] !== question.ask ? [question.id] : []));
  if (old.length > 0) keep({ answers: Object.fromEntries(Object.entries(were).filter(([id]) => !old.includes(id))) });
  return old.length > 0;
}
/** @param {import('../../data/finding.js').Said['words']} words */
export const remember = (words) => keep({ words: { ...lastWords.peek(), ...words } });

/** @type {Promise<void> | undefined} */
let recalled;
const recall = () => (recalled ??= keptAnswers().then((kept) => {
  if (kept && !said.peek().of) said.value = kept;
}));

/**
 * Whether what is answered now is of a find on file too.
 * @param {{outing?: string | null, at?: string}} find
 */
export const ofNow = ({ outing, at }) => Date.parse(at ?? '') > 0 && dayOf(outing, Date.parse(at ?? '')) === answersOf.value;

/**
 * What stands around a find, besides its shore and what was answered.
 * @param {import('../../data/shore-record.js').Shore | undefined} shore
 * @param {import('./outing.js').Outing | undefined} outing
 */
export const around = (shore, outing) => ({
  zone: shore?.zone ?? zoneOf(), outing, visits: visits.value, members: records('member').value, staleDays: household.value.staleDays,
});

/** For how long an answer holds without being asked again, milliseconds: it is asked every minute. */
const HOLDS_MS = 150_000;

/**
 * @param {Asked & {outing?: string | null, shore?: string | null} | undefined} find undefined asks nothing
 * @returns {Verdict | undefined} undefined: not reckoned
 */
export function useVerdict(find) {
  const got = useSignal(/** @type {{asks: string, is: Verdict, atMs: number} | undefined} */ (undefined));
  const saved = find && find.outing !== undefined;
  const outing = saved ? outings.value.find(({ id }) => id === find.outing) : underWay.value;
  const shore = saved ? shores.value.find(({ id }) => id === find.shore) : here.value;
  const asks = find && anyRules.value && JSON.stringify([
    verdictAsk(find, { shore, ...around(shore, outing), answers: !saved || ofNow(find) ? answers.value : {} }),
    find.at, counted.value, catalogue.value,
  ]);
  useEffect(() => void recall(), []);
  useEffect(() => {
    if (!asks) return undefined;
    let gone = false;
    const [question, at] = JSON.parse(asks);
    question.find.at = at ?? instant();
    const atMs = Date.now();
    weigh('verdict', question).then((is) => {
      if (!gone) got.value = Object.keys(question.answers).length > 0 && forgets(is) ? undefined : { asks, is, atMs };
    }, () => !gone && (got.value = undefined));
    return () => {
      gone = true;
    };
  }, [asks, find?.at ? 0 : now.value, state.value]);
  if (!find || !rulesRead.value) return undefined;
  if (!anyRules.value) return NONE;
  const answer = got.value;
  if (!answer || answer.asks !== asks) return undefined;
  return find.at || now.value - answer.atMs < HOLDS_MS ? answer.is : undefined;
}

/**
 * What goes before: a limit that gave the verdict, or the strictest.
 * @param {Verdict} of
 */
export const limitOf = ({ spoke }) => spoke.find(({ count, house }) => count && !house)?.count;

/**
 * Whether to take it is against the rules on file.
 * @param {Verdict | undefined} of
 */
export const against = (of) => of?.verdict === 'forbidden' || of?.verdict === 'over';
