// The service worker. It keeps every file of one version of the app, named by BUILD, and
// answers from them alone, so that Wrackbook works without signal and versions never mix.
//
//   install   fetch every file of this version; a hash-named one that an older version
//             has is copied, so an update costs only what changed. The list of stations
//             comes when the page wants it (worker.js keeps it here); whoever has had it
//             goes on having it
//   activate  only when no page of the older version is open, or when the person asked
//             for it in the page ('use now'); never by itself
//   fetch     a navigation gets this version's page; a file comes from this version, or
//             from the one before (an old tab), or from the network
//
// The page side is sw-bridge.js.

/** @type {ServiceWorkerGlobalScope} */
const sw = /** @type {any} */ (self);

const PREFIX = 'wrackbook-';
const CACHE = PREFIX + BUILD;
const PAGE = '/';
const MANIFEST = '/manifest.webmanifest';

/** What is kept is unpacked: which encoding it came in (the server's Vary) is no matter. */
const LOOSE = { ignoreVary: true };

sw.addEventListener('install', (event) => event.waitUntil(install()));
sw.addEventListener('activate', (event) => event.waitUntil(activate()));
sw.addEventListener('message', (event) => {
  if (event.data === 'use now') sw.skipWaiting();
});
sw.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== location.origin || url.pathname.startsWith('/api/')) return;
  if (event.request.mode === 'navigate' && url.pathname.includes('.')) return;
  event.respondWith(answer(event.request));
});

async function install() {
  const cache = await caches.open(CACHE);
  await Promise.all(FILES.map((url) => keep(cache, url)));
  await cache.put(MANIFEST, await load(MANIFEST));
  if (await hadCatalogue()) await keep(cache, CATALOGUE_URL);
  // The page comes last: a cache that holds it is a whole version. Its name is the same
  // in every version, so it is checked to be of this one.
  const page = await load(PAGE);
  const html = await page.clone().text();
  if (!html.includes(`data-build="${BUILD}"`)) throw new Error('the server has another version by now');
  await cache.put(PAGE, page);
}

/**
 * Puts a hash-named file into the cache, from an older version or the network.
 * @param {Cache} cache
 * @param {string} url
 */
async function keep(cache, url) {
  if (await cache.match(url, LOOSE)) return;
  await cache.put(url, (await caches.match(url, LOOSE)) ?? (await load(url)));
}

/** Whether any version on the phone has its list of stations. */
async function hadCatalogue() {
  for (const name of (await caches.keys()).filter((name) => name.startsWith(PREFIX))) {
    const kept = await (await caches.open(name)).keys();
    if (kept.some((request) => new URL(request.url).pathname.startsWith('/core/catalogue.'))) return true;
  }
  return false;
}

/** @param {string} url */
async function load(url) {
  const response = await fetch(url, { cache: 'no-cache' });
  if (!response.ok) throw new Error(`${url} answered ${response.status}`);
  return response;
}

async function activate() {
  const names = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  // The names come in the order in which the caches were made. The newest whole one is
  // the version before, which tabs still open may need; the rest goes.
  let previous = '';
  for (const name of names) {
    if (await (await caches.open(name)).match(PAGE, LOOSE)) previous = name;
  }
  await Promise.all(names.filter((name) => name !== previous).map((name) => caches.delete(name)));
  await sw.clients.claim();
}

/** @param {Request} request */
async function answer(request) {
  const own = await caches.open(CACHE);
  const url = request.mode === 'navigate' ? PAGE : request.url;
  const kept = (await own.match(url, LOOSE)) ?? (url === PAGE ? undefined : await caches.match(url, LOOSE));
  return kept ?? fetch(request);
}
