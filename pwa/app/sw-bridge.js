// The only page code that touches the service worker. A new version is offered, never
// forced: the page goes on with the old one until the person says so.

import { signal } from '@preact/signals';

/**
 * none: nothing to say. ready: a new version waits for consent. elsewhere: another tab
 * has consented, this one still runs the old version.
 * @typedef {'none' | 'ready' | 'elsewhere'} Update
 */
export const update = signal(/** @type {Update} */ ('none'));

/** Whether this version is on the phone whole, so that it works without signal. */
export const offlineReady = signal(false);

const CHECK_EVERY_MS = 60_000;

/** @type {ServiceWorkerRegistration | undefined} */
let registration;
let consented = false;

/** Registers the service worker and watches for new versions. Call behind the first paint. */
export async function start() {
  const container = navigator.serviceWorker;
  if (!container) return; // an old browser, or plain HTTP away from this machine
  let controlled = Boolean(container.controller);
  container.addEventListener('controllerchange', () => {
    if (consented) return location.reload();
    if (controlled) update.value = 'elsewhere';
    controlled = true; // the first install takes this page over; that is no update
  });
  registration = await container.register('/sw.js', { updateViaCache: 'none' });
  container.ready.then(() => (offlineReady.value = true));
  if (registration.waiting && container.controller) update.value = 'ready';
  registration.addEventListener('updatefound', () => watch(registration?.installing));
  watch(registration.installing);
  let last = Date.now(); // registering has just looked
  const look = () => {
    if (document.visibilityState !== 'visible' || Date.now() - last < CHECK_EVERY_MS) return;
    last = Date.now();
    registration?.update().catch(() => {}); // no signal: the next look will do
  };
  document.addEventListener('visibilitychange', look);
  addEventListener('focus', look);
  addEventListener('pageshow', look);
}

/** @param {ServiceWorker | null | undefined} worker */
function watch(worker) {
  worker?.addEventListener('statechange', () => {
    if (worker.state === 'installed' && navigator.serviceWorker.controller) update.value = 'ready';
  });
}

/** The person consents: the waiting version takes over and the page reloads. */
export function useNow() {
  consented = true;
  if (registration?.waiting) registration.waiting.postMessage('use now');
  else location.reload(); // it has taken over already
}
