// What the day's curve says at one time, in words.

import { clock, metres } from '../parts/when.js';
import { waterAt } from '../../data/water.js';
import { text } from '../../text/en.js';

/** A rate under this, in metres an hour, reads as "about to turn". */
const SLACK = 0.03;

/**
 * @param {import('./plan-state.js').Day} day
 * @param {number} ms
 * @param {{zone: string, below: number}} shore
 * @returns {{words: string[], heightM: number | undefined}}
 */
export function reading(day, ms, { zone, below }) {
  const t = text.day;
  const water = waterAt(day.curve, ms);
  if (!water) return { words: [clock(new Date(ms).toISOString(), zone)], heightM: undefined };
  const heightM = Math.round(water.heightM * 1000) / 1000; // as the core decides
  const rate = water.rateMPerHour;
  const within = (/** @type {import('./plan-state.js').Stretch[]} */ stretches) => stretches.some(({ from, to }) => Date.parse(from) <= ms && ms <= Date.parse(to));
  return {
    heightM,
    words: [
      clock(new Date(ms).toISOString(), zone), t.metres(metres(heightM)),
      Math.abs(rate) < SLACK ? t.trends.turning : rate > 0 ? t.trends.rising : t.trends.falling,
      within(day.sky.lit) ? t.lights.lit : within(day.sky.civil) ? t.lights.civil : t.lights.night,
      heightM < below ? t.bare : t.covered,
    ],
  };
}
