// What the rules on file have against the windows that are shown: closed days and hours, a shore
// at rest. It is asked behind the first paint; until it is answered nothing is claimed.

import { computed, effect, signal } from '@preact/signals';
import { state } from '../../core.js';
import { records } from '../../data/book.js';
import { household } from '../../data/household.js';
import { daysAsk, shoreAsk, visitsOf } from '../../data/rules-ask.js';
import { anyRules, counted, weigh } from '../../data/rules.js';
import { place } from '../route.js';
import { day, list, today } from './plan-state.js';
import { shore } from './shore-state.js';

/**
 * open: the part of the window that is left.
 * @typedef {{set: string, text: string, of: string, sure: boolean, open: {from: string, to: string}[]}} Against
 * @typedef {{closed: Against[], some: Against[], rests: Against[], unchecked: string}} Closed
 */

/** As many as are asked about at once: those on the screen come first. */
const PART = 60;

/** @typedef {{usableFrom: string, usableTo: string}} Window */

const wanted = computed(() => {
  const at = shore.value;
  if (!at || !anyRules.value || place.value !== 'plan' || state.value !== 'ready') return undefined;
  const found = list.shown.value?.answer;
  /** @type {Window[]} */
  const windows = [...(day.shown.value?.answer.windows ?? []), ...(found?.windows.windows ?? []), found?.nextMorning ?? found?.windows.none?.next].filter(Boolean);
  const asks = { shore: shoreAsk(at, visitsOf(records('outing').value)), party: [], purpose: 'home', ...daysAsk(household.value.staleDays) };
  return { key: JSON.stringify([asks, counted.value, today.value]), asks, windows };
});

const got = signal({ key: '', of: /** @type {Map<string, Closed>} */ (new Map()) });

/** @param {Window} w */
const name = (w) => `${w.usableFrom} ${w.usableTo}`;

effect(() => {
  const want = wanted.value;
  if (!want) return undefined;
  if (got.peek().key !== want.key) got.value = { key: want.key, of: new Map() };
  let gone = false;
  const next = async () => {
    const part = want.windows.filter((w) => !got.peek().of.has(name(w))).slice(0, PART);
    if (gone || part.length === 0) return;
    const { notes, windows } = await weigh('closed', { ...want.asks, windows: part.map((w) => ({ from: w.usableFrom, to: w.usableTo })) });
    if (gone) return;
    const told = (/** @type {{note: number, open: any[]}[]} */ list) => list.map(({ note, open }) => ({ ...notes[note], open }));
    got.value = {
      key: want.key,
      of: new Map([...got.peek().of, ...part.map((w, i) => {
        const { closed, some, rests, unchecked } = windows[i];
        return /** @type {[string, Closed]} */ ([name(w), { closed: told(closed), some: told(some), rests: told(rests), unchecked }]);
      })]),
    };
    await next();
  };
  const timer = setTimeout(() => next().catch(() => {})); // not reckoned, then
  return () => {
    gone = true;
    clearTimeout(timer);
  };
});

/**
 * @param {Window} w
 * @returns {Closed | undefined} undefined: not reckoned
 */
export const closedOf = (w) => (wanted.value?.key === got.value.key ? got.value.of.get(name(w)) : undefined);
