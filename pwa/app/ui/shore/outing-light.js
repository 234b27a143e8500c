// Whether a planned outing runs into the dark.

import { signal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { call, state } from '../../core.js';
import { isDarkIn } from './checks.js';

const DAY_MS = 86_400_000;

/**
 * @param {{lat: number, lon: number, zone: string} | undefined} shore
 * @param {{from: string, to: string, offBy: string | null} | null | undefined} planned
 * @returns {import('@preact/signals').Signal<import('./checks.js').Light>} undefined while it is not known
 */
export function useLight(shore, planned) {
  const light = useMemo(() => signal(/** @type {import('./checks.js').Light} */ (undefined)), []);
  const question = shore && planned ? JSON.stringify([shore.lat, shore.lon, shore.zone, planned.from, planned.to, planned.offBy]) : '';
  useEffect(() => {
    let wanted = true;
    light.value = undefined;
    if (shore && planned) {
      const end = planned.offBy && planned.offBy > planned.to ? planned.offBy : planned.to;
      const at = (/** @type {number} */ ms) => new Date(ms).toISOString();
      call('sky', { lat: shore.lat, lon: shore.lon, zone: shore.zone, from: at(Date.parse(planned.from) - DAY_MS), to: at(Date.parse(end) + DAY_MS) })
        .then(({ lit }) => wanted && (light.value = { dark: isDarkIn({ from: planned.from, to: end }, lit) }), () => {}); // not known, and said so
    }
    return () => void (wanted = false);
  }, [question, state.value === 'ready']);
  return light;
}
