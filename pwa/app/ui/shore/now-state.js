// What the staff stands on: the shore, the water kept beside it, its windows from yesterday
// to the day after tomorrow, and the limits that hold. All of it is kept on the phone and
// works without the core; how old it is stands in words beside it.

import { computed, effect, signal } from '@preact/signals';
import { call, catalogue, state } from '../../core.js';
import { keepNow, keptNow } from '../../data/answers.js';
import { waterAt } from '../../data/water.js';
import { now } from '../parts/now.js';
import { addDays, localDay } from '../parts/when.js';
import { place } from '../route.js';
import { heightsOf } from '../plan/heights-state.js';
import { asked, request } from '../plan/plan-state.js';
import { deleted, shore, shores } from '../plan/shore-state.js';
import { beatMs } from './beat.js';
import { isDark, nextTurn, risesTo, stageOf, windowNow } from './now-limits.js';
import { limitsOf } from './outing.js';
import { outings, underWay } from './outing-state.js';

/** @typedef {import('../../data/shore-record.js').Shore} Shore */

/** The shore of the outing that is under way, or else the chosen one. */
export const spot = computed(() => {
  const outing = underWay.value;
  if (!outing) return place.value === 'shore' ? shore.value : undefined;
  return [...shores.value, ...deleted.value].find(({ id }) => id === outing.shore);
});

/** Whether its heights were set with another list of stations; see shore-doubt.js in Plan. */
export const inDoubt = computed(() => Boolean(spot.value && spot.value.release !== CATALOGUE_RELEASE));

const sure = computed(() => (inDoubt.value ? undefined : spot.value));

export const { heights, fresh: heightsFresh, looked } = heightsOf(sure);

/** The water now, as predicted. */
export const water = computed(() => heights.value && waterAt(heights.value, beatMs.value));

/** The shore's own day. */
export const today = computed(() => (sure.value ? localDay(now.value, sure.value.zone) : ''));

/** The form of what is kept. */
const FORM = 1;

/**
 * next is the first window after those days where none of theirs is left to come.
 * @typedef {object} Days
 * @property {number} form
 * @property {any[]} windows as the core answers
 * @property {any} [next]
 * @property {{from: string, to: string}[]} lit
 * @property {{from: string, to: string}} span of lit
 */

/** @typedef {{question: string, answer: Days, at: string, fresh: boolean}} Shown */

const shown = signal(/** @type {Shown | undefined} */ (undefined));
/** What the core said where it could not answer. */
export const failure = signal(/** @type {Error | undefined} */ (undefined));

/** @typedef {{shore: any, light: string, from: string, to: string}} Question */

const question = computed(() => {
  const at = sure.value;
  if (!at || !today.value) return undefined;
  /** @type {Question} */
  const asks = { shore: request(at), light: asked.value.light, from: addDays(today.value, -1), to: addDays(today.value, 3) };
  return JSON.stringify(asks);
});

/**
 * Whether an older answer says something of today: the same shore and light, and not so old
 * that today has left it.
 * @param {string} was
 * @param {string} is
 */
function fits(was, is) {
  /** @type {Question[]} */
  const [a, b] = [JSON.parse(was), JSON.parse(is)];
  return JSON.stringify([a.shore, a.light]) === JSON.stringify([b.shore, b.light]) && a.from <= b.from && addDays(b.from, 1) < a.to;
}

effect(() => {
  const asks = question.value;
  const at = sure.value;
  if (!asks || !at) return void (shown.value = undefined);
  const here = () => question.peek() === asks;
  failure.value = undefined;
  const had = shown.peek();
  if (had && had.question !== asks) shown.value = fits(had.question, asks) ? { ...had, fresh: false } : undefined;
  if (!shown.peek()) {
    keptNow(at.id).then((kept) => {
      if (here() && !shown.peek() && kept?.answer.form === FORM && fits(kept.question, asks)) shown.value = { ...kept, fresh: false };
    });
  }
  if (state.value !== 'ready' || catalogue.value !== 'open' || shown.peek()?.fresh) return;
  ask(JSON.parse(asks)).then((answer) => {
    if (!here()) return;
    const kept = { build: BUILD, question: asks, answer, at: new Date().toISOString() };
    shown.value = { ...kept, fresh: true };
    failure.value = undefined;
    keepNow(at.id, kept);
  }, (error) => here() && (failure.value = error));
});

/**
 * @param {Question} asks
 * @returns {Promise<Days>}
 */
async function ask({ shore: of, light, from, to }) {
  // A window is shown however short it is: somebody may be there.
  const question = { shore: of, light, least: 1 };
  const [{ windows, none }, sky] = await Promise.all([
    call('windows', { ...question, from, to }),
    call('sky', { lat: of.lat, lon: of.lon, zone: of.zone, from, to }),
  ]);
  const left = windows.some((/** @type {any} */ w) => w.day > addDays(from, 1));
  const next = left ? undefined : (none ?? (await call('windows', { ...question, from: addDays(from, 2), to })).none)?.next;
  // Of a window, what the staff needs.
  const slim = (/** @type {any} */ w) => w && { day: w.day, usableFrom: w.usableFrom, usableTo: w.usableTo, low: w.low, startBack: w.startBack, offBy: w.offBy };
  return { form: FORM, windows: windows.map(slim), next: slim(next), lit: sky.lit, span: { from: startOf(addDays(from, 1)), to: startOf(addDays(to, -1)) } };
}

/**
 * An instant of a day, wherever it is: a day within the edges, what is lit is known.
 * @param {string} day
 */
const startOf = (day) => `${day}T00:00:00Z`;

/** Today's window or the one under way, and the next. */
export const windows = computed(() => {
  const days = shown.value?.answer;
  if (!days) return undefined;
  const found = windowNow(days.windows, today.value, beatMs.value);
  const next = found.next ?? (days.next && Date.parse(days.next.offBy) > beatMs.value ? days.next : undefined);
  return { ...found, next };
});

/** The outing that is planned for today on this shore and has not started. */
export const planned = computed(() => {
  const at = spot.value;
  return at && outings.value.find((one) => one.startedMs === null && one.planned && one.shore === at.id && localDay(Date.parse(one.planned.from), at.zone) === today.value);
});

/** Whether an outing to this shore has ended in the window of now: all are off the rocks. */
export const ended = computed(() => {
  const from = windows.value?.now && Date.parse(windows.value.now.usableFrom);
  return from !== undefined && outings.value.some(({ shore: of, endedMs }) => of === spot.value?.id && endedMs !== null && endedMs >= from);
});

/**
 * What holds: on an outing its own times, as they were planned, and what was seen since;
 * otherwise those of the window of now.
 */
export const limits = computed(() => {
  const outing = underWay.value;
  const at = spot.value;
  if (outing) {
    const [walkOut, wayOff, margin] = at ? [at.walkOut, inDoubt.value ? null : at.wayOff, at.margin] : [0, null, 0];
    // For the moment in which the kept water is read, what was seen of it waits.
    const rises = (/** @type {number} */ level, /** @type {number} */ fromMs) => (looked.value || !sure.value ? risesTo(heights.value, level, fromMs) : Infinity);
    return limitsOf(outing, walkOut, rises, wayOff, margin, beatMs.value);
  }
  const w = windows.value?.now;
  if (!w || ended.value) return undefined;
  // A plan for today may be the more careful one.
  const both = [w, planned.value?.planned].filter((one) => one?.startBack && one.offBy);
  const earliest = (/** @type {'startBack' | 'offBy'} */ of) => Math.min(...both.map((one) => Date.parse(/** @type {any} */ (one)[of])));
  return { startBackMs: earliest('startBack'), offByMs: earliest('offBy'), why: /** @type {const} */ ('plan') };
});

export const stage = computed(() => (limits.value ? stageOf(limits.value, beatMs.value) : undefined));

/** The window's own low water, where the kept heights mean that one: one page shows one time. */
const SAME_LOW_MS = 1_800_000;

/** The low water that comes next, and the high one. */
export const turns = computed(() => {
  const kept = heights.value;
  const low = kept && nextTurn(kept, beatMs.value, 'low');
  const own = windows.value?.now && Date.parse(windows.value.now.low.time);
  return {
    low: low && own && Math.abs(own - low.ms) < SAME_LOW_MS && own >= beatMs.value ? { ...low, ms: own } : low,
    high: kept && nextTurn(kept, beatMs.value, 'high'),
  };
});

/** Whether the sun is down on the shore. */
export const dark = computed(() => {
  const days = shown.value?.answer;
  return Boolean(days && isDark(days.lit, days.span, beatMs.value));
});

/**
 * What the water stands on. fresh: the core has reckoned it since the app was opened.
 * reckoning: it is doing so. kept: it does not, and what was kept is shown. none: nothing is
 * kept for now.
 * @typedef {'fresh' | 'reckoning' | 'kept' | 'none'} Standing
 */

/** @type {import('@preact/signals').ReadonlySignal<{is: Standing, atMs?: number}>} */
export const standing = computed(() => {
  const stopped = state.value === 'failed' || state.value === 'mismatch' || catalogue.value === 'wanted' || catalogue.value === 'failed' || Boolean(failure.value);
  const atMs = heights.value?.atMs ?? heights.value?.startMs;
  if (!water.value) return { is: stopped || heightsFresh.value ? 'none' : 'reckoning' };
  if (heightsFresh.value && shown.value?.fresh) return { is: 'fresh' };
  return { is: stopped ? 'kept' : 'reckoning', atMs };
});
