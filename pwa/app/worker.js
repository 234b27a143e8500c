// The worker that runs the core. It loads the WebAssembly program and the catalogue of
// stations, says that it is ready, and then answers one request after another.
//
// From the page:  {hello: BUILD}            once, first
//                 {id, name, request, now}  as often as wanted; request is JSON
// To the page:    {state: 'ready' | 'mismatch'} or {state: 'failed', why}
//                 {id, answer}              answer is JSON

import 'wasm_exec';

/**
 * @typedef {{id: string, call(name: string, request: string, nowMs: number): string,
 *   openCatalogue(data: Uint8Array): string}} Core
 */

/** @type {Core | undefined} */
let core;

addEventListener('message', async (event) => {
  const message = event.data;
  if ('hello' in message) {
    if (message.hello !== BUILD) return postMessage({ state: 'mismatch' });
    try {
      core = await start();
      postMessage({ state: core ? 'ready' : 'mismatch' });
    } catch (error) {
      postMessage({ state: 'failed', why: String(error) });
    }
  } else if (core) {
    postMessage({ id: message.id, answer: core.call(message.name, message.request, message.now) });
  }
});

/** Loads the core; undefined if it is not the one this worker was built with. */
async function start() {
  const catalogue = load(CATALOGUE_URL).then((response) => response.arrayBuffer());
  catalogue.catch(() => {}); // awaited below; until then a failure has nobody listening
  const go = new Go();
  const { instance } = await instantiate(await load(CORE_URL), go.importObject);
  // The program runs until it waits for calls, then control comes back here. The promise
  // is for its end, which never comes while all is well.
  go.run(instance).then(() => postMessage({ state: 'failed', why: 'the core ended' }));
  const started = /** @type {{wrackbookCore?: Core}} */ (/** @type {unknown} */ (globalThis)).wrackbookCore;
  if (!started || started.id !== CORE_ID) return undefined;
  const refused = started.openCatalogue(new Uint8Array(await catalogue));
  if (refused) throw new Error(JSON.parse(refused).error.message);
  return started;
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
