// What Plan shows and how it comes about: the kept choice, the kept answer, the new one.

import { signal, effect } from '@preact/signals';
import { call, state } from '../../core.js';
import { keptSpan, keepSpan } from '../../data/choices.js';
import { keptWindows, keepWindows } from '../../data/answers.js';
import { keptHeights, keepHeights, STEP_MINUTES, DAYS } from '../../data/heights.js';
import { addDays } from '../parts/when.js';
import { recallShores, shore, shoreRequest, today, waterRequest } from './shore-state.js';

/** @typedef {import('./shore-state.js').Shore} Shore */
/** @typedef {import('../../data/choices.js').Span} Span */

/** The core predicts to the end of 2100. */
const LAST_DAY = '2100-12-31';
/** Minutes worth going for. */
const LEAST = 40;
/** How much higher the water stands in the pessimistic twin, metres. */
export const RAISE = 0.2;

/** @typedef {{from: string, to: string}} Stretch of light, sunrise to sunset */

/**
 * @typedef {object} Shown what the list shows
 * @property {string} question the request that the answer is to, as JSON
 * @property {any} answer
 * @property {Stretch[]} lit the light of the days of the answer
 * @property {string} [keptAt] when it was kept, if it is not from now
 */

/** An empty from means today. */
export const span = signal(/** @type {Span} */ ({ from: '', days: 31 }));
export const shown = signal(/** @type {Shown | undefined} */ (undefined));
export const failure = signal(/** @type {import('../../core.js').CoreError | undefined} */ (undefined));
export const heights = signal(/** @type {import('../../data/heights.js').Heights | undefined} */ (undefined));

/**
 * The days asked for, [from, to).
 * @param {Shore} at
 * @param {Span} of
 */
export function days(at, of) {
  const from = of.from || today(at);
  const to = addDays(from, of.days);
  return { from, to: to < LAST_DAY ? to : LAST_DAY };
}

/**
 * The request for the windows of a shore.
 * @param {Shore} at
 * @param {Span} of
 */
function question(at, of) {
  return {
    shore: { ...shoreRequest(at), raise: RAISE },
    ...days(at, of), light: 'sun', least: LEAST,
  };
}

/** Reads what was kept. Plan paints it before the core is up. */
export async function recall() {
  const [, of, kept] = await Promise.all([recallShores(), keptSpan(), keptWindows()]);
  if (of) span.value = of;
  const at = shore.peek();
  if (at && kept) shown.value = fits(kept, at, span.peek());
}

/**
 * A kept answer as far as it covers what is asked for now: the same shore, and the day
 * that the list begins with.
 * @param {import('../../data/answers.js').Kept} kept
 * @param {Shore} at
 * @param {Span} of
 * @returns {Shown | undefined}
 */
function fits(kept, at, of) {
  const was = JSON.parse(kept.question);
  const is = question(at, of);
  if (JSON.stringify({ ...was, from: '', to: '' }) !== JSON.stringify({ ...is, from: '', to: '' })) return undefined;
  if (is.from < was.from || is.from >= was.to) return undefined;
  const windows = kept.answer.windows.filter((/** @type {any} */ w) => w.day >= is.from && w.day < is.to);
  return { question: JSON.stringify(is), answer: { ...kept.answer, windows }, lit: kept.lit, keptAt: kept.at };
}

// Another shore, or the same one changed: what is shown was for the one before.
effect(() => {
  const at = shore.value;
  const list = shown.peek();
  if (list && at && !list.question.includes(JSON.stringify({ ...shoreRequest(at), raise: RAISE }))) shown.value = undefined;
  heights.value = undefined;
  if (at) keptHeights(at.station).then((found) => shore.peek() === at && (heights.value ??= found));
});

/** @param {Span} of */
export function chooseSpan(of) {
  shown.value = undefined;
  span.value = of;
  keepSpan(of);
}

effect(() => {
  const at = shore.value;
  const of = span.value;
  if (at && state.value === 'ready') reckon(at, of);
});

/**
 * Asks the core and keeps the answer, unless the choice has changed meanwhile.
 * @param {Shore} at
 * @param {Span} of
 */
async function reckon(at, of) {
  const asked = question(at, of);
  const current = () => shore.peek() === at && span.peek() === of;
  try {
    const [answer, sky] = await Promise.all([
      call('windows', asked),
      call('sky', { lat: at.lat, lon: at.lon, zone: at.zone, from: asked.from, to: asked.to }),
    ]);
    if (!current()) return;
    failure.value = undefined;
    const found = { question: JSON.stringify(asked), answer, lit: sky.lit };
    shown.value = found;
    keepWindows({ ...found, build: BUILD, core: answer.core, at: new Date().toISOString() });
    await reckonHeights(at, answer.core);
  } catch (error) {
    if (current()) failure.value = /** @type {any} */ (error);
  }
}

/**
 * Keeps fourteen days of heights from an hour ago.
 * @param {Shore} at
 * @param {string} core
 */
async function reckonHeights(at, core) {
  const stepMs = STEP_MINUTES * 60_000;
  const startMs = Math.floor(Date.now() / stepMs) * stepMs - 3_600_000;
  const answer = await call('heights', {
    ...waterRequest(at), from: new Date(startMs).toISOString(),
    to: new Date(startMs + DAYS * 86_400_000).toISOString(), every: `${STEP_MINUTES}m`,
  });
  const mm = Int32Array.from(answer.heights, (/** @type {any} */ h) => Math.round(h.height * 1000));
  const kept = { station: at.station, core, startMs, stepMs, mm };
  keepHeights(kept);
  if (shore.peek() === at) heights.value = kept;
}
