// The worker that runs the core. It loads the WebAssembly program, says that it is ready,
// and then answers one request after another. The list of stations (the catalogue) comes
// behind: from what the phone keeps, else from the network if the page wants that.
//
// From the page:  {hello: BUILD, fetchCatalogue}  once, first
//                 {fetchCatalogue: true}          where it was left or did not come
//                 {id, name, request, now}        as often as wanted; request is JSON
//                 {id, name, request, ledger}     name is openLedger, addToLedger, openTanks or addToTanks
// To the page:    {state: 'ready' | 'mismatch'} or {state: 'failed', why}
//                 {catalogue: 'open', kept}, {catalogue: 'wanted'} or {catalogue: 'failed', why}
//                 {id, answer}                    answer is JSON

import 'wasm_exec';

/**
 * @typedef {{id: string, call(name: string, request: string, nowMs: number): string,
 *   openCatalogue(data: Uint8Array): string, openLedger(records: string): string,
 *   addToLedger(records: string): string, openTanks(records: string): string,
 *   addToTanks(records: string): string}} Core
 */

/** @type {Core | undefined} */
let core;

addEventListener('message', async (event) => {
  const message = event.data;
  if ('hello' in message) {
    if (message.hello !== BUILD) return postMessage({ state: 'mismatch' });
    try {
      core = await start();
    } catch (error) {
      return postMessage({ state: 'failed', why: String(error) });
    }
    postMessage({ state: core ? 'ready' : 'mismatch' });
    if (core) openCatalogue(core, message.fetchCatalogue);
  } else if (core && 'fetchCatalogue' in message) {
    openCatalogue(core, true);
  } else if (core && 'ledger' in message) {
    postMessage({ id: message.id, answer: core[/** @type {'openLedger' | 'addToLedger' | 'openTanks' | 'addToTanks'} */ (message.name)](message.request) || 'null' });
  } else if (core) {
    postMessage({ id: message.id, answer: core.call(message.name, message.request, message.now) });
  }
});

/** Loads the core; undefined if it is not the one this worker was built with. */
async function start() {
  const go = new Go();
  const { instance } = await instantiate(await load(CORE_URL), go.importObject);
  // The program runs until it waits for calls, then control comes back here. The promise
  // is for its end, which never comes while all is well.
  go.run(instance).then(() => postMessage({ state: 'failed', why: 'the core ended' }));
  const started = /** @type {{wrackbookCore?: Core}} */ (/** @type {unknown} */ (globalThis)).wrackbookCore;
  return started?.id === CORE_ID ? started : undefined;
}

/**
 * Gives the core the list of stations and keeps it on the phone.
 * @param {Core} core
 * @param {boolean} mayFetch whether the network may be asked
 */
async function openCatalogue(core, mayFetch) {
  try {
    const found = self.caches && (await caches.match(CATALOGUE_URL, { ignoreVary: true }));
    if (!found && !mayFetch) return postMessage({ catalogue: 'wanted' });
    const response = found ?? (await load(CATALOGUE_URL));
    const kept = await keep(response.clone());
    const refused = core.openCatalogue(new Uint8Array(await response.arrayBuffer()));
    if (refused) throw new Error(JSON.parse(refused).error.message);
    postMessage({ catalogue: 'open', kept });
  } catch (error) {
    postMessage({ catalogue: 'failed', why: `the list of stations: ${error}` });
  }
}

/**
 * Puts the list into this version's cache, which is the service worker's (sw.js); it
 * does not fetch the list by itself, because data may be dear.
 * @param {Response} response
 */
async function keep(response) {
  try {
    const cache = await caches.open(`wrackbook-${BUILD}`);
    await cache.put(CATALOGUE_URL, response);
    return true;
  } catch {
    return false; // no room, or no caches on this connection: it is there while the page is open
  }
}

/** @param {string} url */
async function load(url) {
  const response = await fetch(url);
  if (!response.ok) throw new Error(`${url} answered ${response.status}`);
  return response;
}

/**
 * Compiles while the bytes arrive; where a proxy has changed the content type, after.
 * @param {Response} response
 * @param {WebAssembly.Imports} imports
 */
async function instantiate(response, imports) {
  if (WebAssembly.instantiateStreaming && response.headers.get('Content-Type') === 'application/wasm') {
    return WebAssembly.instantiateStreaming(response, imports);
  }
  return WebAssembly.instantiate(await response.arrayBuffer(), imports);
}
