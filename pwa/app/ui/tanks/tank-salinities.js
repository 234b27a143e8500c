// What salinities as they were read mean, each reckoned once by the core and remembered.

import { signal } from '@preact/signals';
import { call, notRunning } from '../../core.js';
import { meaningRequest } from './tank-water-call.js';

/** @typedef {{salinity: number, least: number, most: number}} Estimate */

/** null where the core refuses it. */
const known = signal(/** @type {Map<string, Estimate | null>} */ (new Map()));
/** @type {Set<string>} */
const asked = new Set();
/** @type {[string, Estimate | null][]} */
let came = [];
let waits = 0; // asked, and not yet shown
/** @type {ReturnType<typeof setTimeout> | undefined} */
let timer;

/**
 * @param {any} read value, instrument, scale and sampleC, as the book has it
 * @returns {Estimate | null | undefined} undefined until it is reckoned; null where it cannot be
 */
export function estimate(read) {
  const key = `${read.value} ${read.instrument} ${read.scale} ${read.sampleC ?? ''}`;
  const have = known.value.get(key);
  if (have === undefined && !asked.has(key)) {
    asked.add(key);
    waits++;
    call('water', meaningRequest(read)).then(
      (answer) => take(key, { salinity: answer.salinity, least: answer.least, most: answer.most }),
      (error) => {
        if (!notRunning(error)) return take(key, null);
        asked.delete(key);
        waits--;
      });
  }
  return have;
}

/** Milliseconds that answers may wait for more of them. */
const TOGETHER_MS = 400;

/**
 * A year of readings comes as one change of the screen.
 * @param {string} key
 * @param {Estimate | null} is
 */
function take(key, is) {
  came.push([key, is]);
  if (came.length === 1) timer = setTimeout(show, TOGETHER_MS);
  if (came.length === waits) show();
}

function show() {
  clearTimeout(timer);
  waits -= came.length;
  known.value = new Map([...known.peek(), ...came]);
  came = [];
}
