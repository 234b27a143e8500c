// What the core says of the chosen shore's station.

import { effect, signal } from '@preact/signals';
import { call, catalogue, state } from '../../core.js';
import { shore } from './shore-state.js';

/**
 * answer is the core's to 'station'; error tells why there is none.
 * @typedef {{id: string, distanceKm: number | null, answer?: any, error?: import('../../core.js').CoreError}} Told
 */
export const told = signal(/** @type {Told | undefined} */ (undefined));

effect(() => {
  const at = shore.value;
  if (!at || state.value !== 'ready' || catalogue.value !== 'open') return;
  const { station: id, distanceKm } = at;
  const known = told.peek();
  if (known?.id === id && known.distanceKm === distanceKm) return;
  const current = () => shore.peek()?.station === id && shore.peek()?.distanceKm === distanceKm;
  aboutStation(id, distanceKm).then(
    (answer) => current() && (told.value = { id, distanceKm, answer }),
    (error) => current() && (told.value = { id, distanceKm, error }),
  );
});

/**
 * @param {string} station id
 * @param {number | null} distanceKm from the shore, if known
 */
export const aboutStation = (station, distanceKm) => call('station', { station, distanceKm: distanceKm ?? 0 });
