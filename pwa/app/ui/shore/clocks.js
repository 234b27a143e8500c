// Times on the shore's clock.

import { clock } from '../parts/when.js';
import { spot } from './now-state.js';

/**
 * "08:20", on the clock of the shore; cut to the minute, since a minute early does no harm.
 * @param {number} ms
 */
export const clockAt = (ms) => clock(new Date(ms).toISOString(), spot.value?.zone ?? 'UTC');

/**
 * "08:20" at the nearest minute, as tables are printed.
 * @param {number} ms
 */
export const nearest = (ms) => clockAt(ms + 30_000);
