// Where this phone is, for the emergency card: the last fix at once, a new one when it comes.

import { signal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { keepFix, keptFix } from '../../data/fix.js';

/** @typedef {import('../../data/fix.js').Fix} Fix */
/** @typedef {'asking' | 'found' | 'refused' | 'slow' | 'none'} Asking */

const WAIT_MS = 20_000;
const DENIED = 1; // GeolocationPositionError.PERMISSION_DENIED

/** Watches the position while the page is open. */
export function useFix() {
  const at = useMemo(() => ({ fix: signal(/** @type {Fix | undefined} */ (undefined)), asking: signal(/** @type {Asking} */ ('asking')), again: signal(0) }), []);
  const round = at.again.value;
  useEffect(() => {
    let wanted = true;
    keptFix().then((kept) => wanted && (at.fix.value ??= kept));
    if (!navigator.geolocation) return void (at.asking.value = 'none');
    at.asking.value = 'asking';
    const watch = navigator.geolocation.watchPosition(({ coords: { latitude, longitude, accuracy }, timestamp }) => {
      at.asking.value = 'found';
      at.fix.value = { lat: latitude, lon: longitude, accuracyM: accuracy, atMs: Math.min(timestamp, Date.now()) };
      keepFix(at.fix.value);
    }, (error) => {
      at.asking.value = error.code === DENIED ? 'refused' : 'slow';
    }, { enableHighAccuracy: true, timeout: WAIT_MS, maximumAge: 0 });
    return () => {
      wanted = false;
      navigator.geolocation.clearWatch(watch);
    };
  }, [round]);
  return at;
}
