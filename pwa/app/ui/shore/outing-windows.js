// The windows of one day of a shore, as a plan freezes them.

import { signal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { call, catalogue, state } from '../../core.js';
import { addDays } from '../parts/when.js';
import { shoreRequest } from '../plan/shore-state.js';
import { asked, RAISE } from '../plan/plan-state.js';

/** @typedef {import('../../data/shore-record.js').Shore} Shore */

const FIRST_DAY = '1900-01-05';
const LAST_DAY = '2100-12-27';

/**
 * Whether windows are reckoned for a day.
 * @param {string} day
 */
export const isDay = (day) => /^\d{4}-\d\d-\d\d$/.test(day) && !Number.isNaN(Date.parse(`${day}T00:00:00Z`)) && day >= FIRST_DAY && day <= LAST_DAY;

/**
 * windows by time, each with what a plan keeps and its low water; none is why there are none.
 * @typedef {{from: string, to: string, startBack: string, offBy: string, low: {time: string, height: number}}} Found
 * @typedef {{on: string, windows?: Found[], none?: string, failed?: boolean}} DayWindows
 */

/**
 * @param {Shore | undefined} shore none, or one in doubt, is not asked about
 * @param {string} on
 * @returns {import('@preact/signals').Signal<DayWindows | undefined>} undefined while they are reckoned
 */
export function useWindows(shore, on) {
  const found = useMemo(() => signal(/** @type {DayWindows | undefined} */ (undefined)), []);
  useEffect(() => {
    let wanted = true;
    found.value = undefined;
    if (shore && isDay(on)) {
      reckon(shore, on).then((answer) => wanted && (found.value = answer), () => wanted && (found.value = { on, failed: true }));
    }
    return () => void (wanted = false);
  }, [shore?.id, on, asked.value.light, asked.value.least, state.value === 'ready', catalogue.value]);
  return found;
}

/**
 * @param {Shore} shore
 * @param {string} on
 * @returns {Promise<DayWindows>}
 */
async function reckon(shore, on) {
  const { light, least } = asked.peek();
  const request = { shore: { ...shoreRequest(shore), raise: RAISE }, light, least };
  // The days beside it too: the edge of the question must not cut a window.
  const { windows } = await call('windows', { ...request, from: addDays(on, on > FIRST_DAY ? -1 : 0), to: addDays(on, on < LAST_DAY ? 2 : 1) });
  const own = windows.filter((/** @type {any} */ w) => w.day === on).sort((/** @type {any} */ a, /** @type {any} */ b) => (a.low.time < b.low.time ? -1 : 1))
    .map((/** @type {any} */ w) => ({ from: w.usableFrom, to: w.usableTo, startBack: w.startBack, offBy: w.offBy, low: w.low }));
  if (own.length > 0) return { on, windows: own };
  const { none } = await call('windows', { ...request, from: on, to: addDays(on, 1) });
  return { on, windows: [], none: none?.text ?? '' };
}
