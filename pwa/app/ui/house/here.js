// Instants on this phone's own clock: House is about phones, not about a shore.

import { clock, dayName, localDay } from '../parts/when.js';

/**
 * "Sat 12 Dec, 06:48"; with the year where it is not this one.
 * @param {number} ms Unix milliseconds
 */
export function here(ms) {
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone ?? 'UTC';
  return `${dayName(localDay(ms, zone), localDay(Date.now(), zone))}, ${clock(new Date(ms).toISOString(), zone)}`;
}
