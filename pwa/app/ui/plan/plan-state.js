// What Plan asks of the chosen shore and what it shows: the list of windows, one day, one
// year. Nothing is asked while the shore itself is in doubt.

import { computed, signal } from '@preact/signals';
import { call } from '../../core.js';
import { keptAsked, keepAsked } from '../../data/choices.js';
import { addDays, clock, localDay } from '../parts/when.js';
import { now } from '../parts/now.js';
import { parts } from '../route.js';
import { asking } from './asking.js';
import { recallChosen } from './chosen-state.js';
import { curveOf } from './curve.js';
import { heightsOf } from './heights-state.js';
import { dayBounds, isDay, isYear, LAST_DAY, span } from './reckoned-days.js';
import { doubt, recallShores, shore, shoreRequest, waterRequest } from './shore-state.js';

/** @typedef {import('./shore-state.js').Shore} Shore */
/** @typedef {import('../../data/choices.js').Asked} Asked */
/** @typedef {import('./curve.js').Curve} Curve */
/** @typedef {{from: string, to: string}} Stretch of light */
/** @typedef {{time: string, height: number, kind?: string}} Water */

/** How much higher the water stands in the pessimistic twin, metres. */
export const RAISE = 0.2;
/** Minutes worth going for, unless the person says otherwise. */
export const LEAST = 40;

/** @type {import('@preact/signals').Signal<Asked>} */
export const asked = signal({ from: '', days: 31, light: 'sun', least: LEAST, weekends: false, mornings: false, order: 'best' });

/** The shore's own day. */
export const today = computed(() => (shore.value ? localDay(now.value, shore.value.zone) : ''));

/** @param {Partial<Asked>} change */
export function ask(change) {
  asked.value = { ...asked.peek(), ...change };
  keepAsked(asked.peek());
}

/** The days of the list, [from, to). */
export const days = computed(() => {
  const from = asked.value.from || today.value;
  const to = addDays(from, asked.value.days);
  return { from, to: to > LAST_DAY ? addDays(LAST_DAY, 1) : to };
});

/**
 * The shore as the core is asked about it.
 * @param {Shore} of
 */
export const request = (of) => ({ ...shoreRequest(of), raise: RAISE });

/** The shore that may be asked about. */
const sure = computed(() => (doubt.value ? undefined : shore.value));

/**
 * Whether the low water of a window falls in the morning, on the shore's clock.
 * @param {any} w
 * @param {string} zone
 */
export const isMorning = (w, zone) => localDay(Date.parse(w.low.time), zone) === w.day && clock(w.low.time, zone) < '12';

/**
 * Days drawn small: the curve and the light over them.
 * @typedef {{curve: Curve, lit: Stretch[]}} Strip
 */

/**
 * @param {{lat: number, lon: number, zone: string}} at
 * @param {object} water what the core's heights need
 * @param {string} from first day
 * @param {string} to the day after the last
 * @returns {Promise<Strip>}
 */
async function strip(at, water, from, to) {
  // A month at 20 minutes, three at 30: fine enough for a row as wide as a phone.
  const step = Date.parse(to) - Date.parse(from) > 40 * 86_400_000 ? 30 : 20;
  const [start, end] = [dayBounds(from, at.zone).start, dayBounds(addDays(to, -1), at.zone).end + step * 60_000];
  const [drawn, sky] = await Promise.all([
    call('heights', { ...water, from: new Date(start).toISOString(), to: new Date(end).toISOString(), every: `${step}m` }),
    call('sky', { lat: at.lat, lon: at.lon, from: new Date(start).toISOString(), to: new Date(end).toISOString() }),
  ]);
  return { curve: curveOf(drawn.heights, step * 60_000), lit: sky.lit };
}

/**
 * windows is the core's answer; strips draw its days, and that of the next window where
 * there is none; nextMorning is the first one after the span where only mornings are
 * asked for and there is none.
 * @typedef {{windows: any, strips: Strip[], nextMorning?: any}} List
 */

export const list = asking('list', {
  question() {
    const at = sure.value;
    if (!at) return undefined;
    const { light, least, weekends, mornings } = asked.value;
    const windows = {
      shore: request(at), ...span(days.value.from, days.value.to), light, least, ...(weekends ? { days: ['sat', 'sun'] } : {}),
    };
    return { windows, water: waterRequest(at), days: days.value, mornings };
  },
  /** @returns {Promise<List>} */
  async ask({ windows: question, water, days: { from, to }, mornings }, show) {
    const at = question.shore;
    const windows = await call('windows', question);
    let nextMorning;
    if (!mornings || windows.windows.some((/** @type {any} */ w) => isMorning(w, at.zone))) show({ windows, strips: [] });
    else if (to <= LAST_DAY) {
      const later = await call('windows', { ...question, ...span(to, addDays(to, 366)) });
      nextMorning = byDate(later.windows).find((w) => isMorning(w, at.zone));
    }
    const next = (mornings && nextMorning) || windows.none?.next;
    const strips = await Promise.all([
      strip(at, water, from, to), ...(next ? [strip(at, water, next.day, addDays(next.day, 1))] : []),
    ]);
    return { windows, strips, nextMorning };
  },
  // An older list of the same shore holds from today on.
  fit(answer, was, is) {
    const rest = (/** @type {typeof was} */ q) => JSON.stringify({ ...q, days: 0, windows: { ...q.windows, from: '', to: '' } });
    if (rest(was) !== rest(is) || is.days.from < was.days.from || is.days.from >= was.days.to) return undefined;
    const windows = answer.windows.windows.filter((/** @type {any} */ w) => w.day >= is.days.from && w.day < is.days.to);
    return windows.length ? { ...answer, windows: { ...answer.windows, windows, none: null } } : undefined;
  },
});

/** @param {any[]} windows */
export const byDate = (windows) => [...windows].sort((a, b) => (a.low.time < b.low.time ? -1 : 1));

/**
 * none is the core's reason where the day has no window.
 * @typedef {{start: number, end: number, windows: any[], cautions: any[], none?: any, waters: Water[], curve: Curve, sky: any}} Day
 */

const DAY_STEP_MINUTES = 5;

export const day = asking('day', {
  question() {
    const at = sure.value;
    const [, page, on] = parts.value;
    if (!at || page !== 'day' || !isDay(on ?? '')) return undefined;
    return { shore: request(at), water: waterRequest(at), on, light: asked.value.light, least: asked.value.least };
  },
  /** @returns {Promise<Day>} */
  async ask({ shore: of, water, on, light, least }) {
    const { start, end } = dayBounds(on, of.zone);
    const at = (/** @type {number} */ ms) => new Date(ms).toISOString();
    const step = DAY_STEP_MINUTES * 60_000;
    // The windows of the days beside it too: the edge of the question must not cut one.
    const [windows, heights, tides, sky] = await Promise.all([
      call('windows', { shore: of, ...span(addDays(on, -1), addDays(on, 2)), light, least }),
      call('heights', { ...water, from: at(start - 2 * step), to: at(end + 3 * step), every: `${DAY_STEP_MINUTES}m` }),
      call('tides', { ...water, from: at(start), to: at(Math.max(end, start + 1000)) }),
      call('sky', { lat: of.lat, lon: of.lon, zone: of.zone, from: at(start), to: at(start + 9 * 86_400_000) }),
    ]);
    const own = byDate(windows.windows.filter((/** @type {any} */ w) => w.day === on));
    const none = own.length || start === end ? undefined
      : (await call('windows', { shore: of, ...span(on, addDays(on, 1)), light, least })).none;
    return { start, end, windows: own, cautions: windows.cautions, none, waters: tides.waters, curve: curveOf(heights.heights, step), sky };
  },
});

/**
 * The windows of a year, by day, and the moon. What the list and the day do not need of a
 * window is left out.
 * @typedef {{day: string, usableFrom: string, usableTo: string, usableMinutes: number, low: Water, startBack: string, offBy: string}} YearWindow
 * @typedef {{windows: YearWindow[], none?: any, phases: {time: string, kind: string}[]}} Year
 */

export const year = asking('year', {
  question() {
    const at = sure.value;
    const [, page, of] = parts.value;
    if (!at || page !== 'year' || !isYear(of ?? '')) return undefined;
    return { shore: request(at), ...span(`${of}-01-01`, `${Number(of) + 1}-01-01`), light: asked.value.light, least: asked.value.least };
  },
  /** @returns {Promise<Year>} */
  async ask(question, show) {
    const { windows, none } = await call('windows', question);
    /** @type {YearWindow[]} */
    const found = byDate(windows).map(({ day, usableFrom, usableTo, usableMinutes, low, startBack, offBy }) => (
      { day, usableFrom, usableTo, usableMinutes, low, startBack, offBy }));
    show({ windows: found, none, phases: [] });
    const sky = await call('sky', { lat: question.shore.lat, lon: question.shore.lon, zone: question.shore.zone, from: question.from, to: question.to });
    return { windows: found, none, phases: sky.phases };
  },
});

/** Reads what was kept. Plan paints it before the core is up. */
export async function recall() {
  const [, kept] = await Promise.all([recallShores(), keptAsked(), list.recall(), day.recall(), year.recall(), recallChosen()]);
  if (kept) asked.value = { ...asked.peek(), ...kept };
}

/** Fourteen days of heights, for the water now. */
export const { heights } = heightsOf(sure);
