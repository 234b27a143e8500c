// The only module that talks to the worker with the core. It starts the worker when it is
// told to, restarts it once if it fails, and then says that it has failed. Requests
// asked before it is ready wait; those in flight when it fails are asked again, which is
// harmless because the core only computes.

import { signal } from '@preact/signals';

/**
 * asleep: not started. starting: loading. ready: answers. failed: was restarted once and
 * failed again. mismatch: page, worker and core are not of one version; reload.
 * @typedef {'asleep' | 'starting' | 'ready' | 'failed' | 'mismatch'} State
 */

/** @type {import('@preact/signals').Signal<State>} */
export const state = signal(/** @type {State} */ ('asleep'));

/**
 * The list of stations, which comes behind the core. coming: on its way. open: there.
 * wanted: not on this phone, and left where it is because data is dear here; see
 * fetchCatalogue. failed: it did not come.
 * @typedef {'coming' | 'open' | 'wanted' | 'failed'} Catalogue
 */
export const catalogue = signal(/** @type {Catalogue} */ ('coming'));
/** Whether the list is kept on the phone, so that it is there without signal. */
export const catalogueKept = signal(false);

/** Calls that do without the list of stations. */
const NEEDS_NO_CATALOGUE = ['about', 'sky', 'fold', 'past', 'taxa', 'verdict', 'ruleset', 'openTanks', 'addToTanks', 'clock', 'handling', 'care', 'acclimate', 'water',
  'onFile', 'closed', 'share', 'openLedger', 'addToLedger'];

/** How long loading and one call may take on a slow phone, in milliseconds. */
const START_MS = 60_000;
const CALL_MS = 30_000;

/** What went wrong, in the core's words or ours. */
export class CoreError extends Error {
  /**
   * @param {string} code one of internal/fault, or 'core_failed', 'core_mismatch'
   * @param {string} message a sentence for the person
   * @param {string} [field] the field of the request at fault
   */
  constructor(code, message, field = '') {
    super(message);
    this.code = code;
    this.field = field;
  }
}

/**
 * Whether a call failed because nothing reckons; what was asked may well be right.
 * @param {any} error
 */
export const notRunning = ({ code }) => code === 'core_failed' || code === 'core_mismatch';

/**
 * ledger: it puts records into the core, which is lost with the worker.
 * @typedef {{name: string, request: string, ledger?: boolean, resolve(answer: any): void, reject(error: Error): void, sent?: boolean, timer?: number}} Waiting
 */

/** @type {Map<number, Waiting>} */
const waiting = new Map();
let lastId = 0;
let failures = 0;
let asked = false; // whether the person wants the list although data is dear
/** @type {Worker | undefined} */
let worker;
/** @type {number | undefined} */
let startTimer;
/** @type {(why: string) => void} */
let report = () => {};

/** @param {(why: string) => void} listener hears why the core failed, for the list of errors */
export function onFailure(listener) {
  report = listener;
}

/** Starts the worker; again after a failure, if the person asks for it. */
export function start() {
  if (state.peek() === 'starting' || state.peek() === 'ready') return;
  failures = 0;
  launch();
}

/** Fetches the list of stations where it was left, or did not come. */
export function fetchCatalogue() {
  asked = true;
  catalogue.value = 'coming';
  if (state.peek() === 'ready') worker?.postMessage({ fetchCatalogue: true });
}

/** Whether the phone says that data is dear: it saves data, or has a slow connection. */
function dataIsDear() {
  const { connection } = /** @type {{connection?: {saveData?: boolean, effectiveType?: string}}} */ (navigator);
  return Boolean(connection?.saveData) || /(^|-)2g$/.test(connection?.effectiveType ?? '');
}

function launch() {
  state.value = 'starting';
  catalogue.value = 'coming';
  for (const [id, one] of waiting) {
    one.sent = false;
    if (!one.ledger) continue;
    waiting.delete(id);
    one.reject(new CoreError('core_failed', 'The part of Wrackbook that reckons has started anew.'));
  }
  const started = new Worker(WORKER_URL);
  worker = started;
  started.onmessage = (event) => worker === started && hear(event.data);
  started.onerror = (event) => worker === started && fail(event.message || 'the worker could not be loaded');
  startTimer = setTimeout(() => worker === started && fail('the core took too long to start'), START_MS);
  started.postMessage({ hello: BUILD, fetchCatalogue: asked || !dataIsDear() });
}

/** @param {{state?: string, why?: string, catalogue?: Catalogue, kept?: boolean, id?: number, answer?: string}} message */
function hear(message) {
  if (message.state === 'ready') {
    clearTimeout(startTimer);
    state.value = 'ready';
    sendWaiting();
  } else if (message.state === 'mismatch') {
    stop('mismatch', new CoreError('core_mismatch', 'The parts of Wrackbook on this phone are of two versions. Please reload.'));
  } else if (message.state === 'failed') {
    fail(message.why ?? '');
  } else if (message.catalogue) {
    if (message.why) report(message.why);
    catalogueKept.value = Boolean(message.kept);
    catalogue.value = message.catalogue;
    sendWaiting();
  } else if (message.id !== undefined) {
    settle(message.id, String(message.answer));
  }
}

/** @param {number} id @param {string} answer */
function settle(id, answer) {
  const asked = waiting.get(id);
  if (!asked) return;
  waiting.delete(id);
  clearTimeout(asked.timer);
  const value = JSON.parse(answer);
  if (value && value.error) asked.reject(new CoreError(value.error.code, value.error.message, value.error.field));
  else asked.resolve(value);
}

/** @param {string} why */
function fail(why) {
  report(why);
  failures++;
  if (failures === 1) {
    quit();
    launch();
  } else {
    stop('failed', new CoreError('core_failed', 'The part of Wrackbook that reckons has failed on this phone.'));
  }
}

/** @param {State} end @param {CoreError} error */
function stop(end, error) {
  quit();
  state.value = end;
  for (const asked of waiting.values()) asked.reject(error);
  waiting.clear();
}

function quit() {
  clearTimeout(startTimer);
  for (const asked of waiting.values()) clearTimeout(asked.timer);
  worker?.terminate();
  worker = undefined;
}

/**
 * Sends a request if its time has come: one that needs the list of stations waits while
 * that is on its way.
 * @param {number} id
 */
function send(id) {
  const asked = waiting.get(id);
  if (!asked || asked.sent || !worker || state.peek() !== 'ready') return;
  if (catalogue.peek() === 'coming' && !NEEDS_NO_CATALOGUE.includes(asked.name)) return;
  asked.sent = true;
  asked.timer = setTimeout(() => fail(`${asked.name} took too long`), CALL_MS);
  worker.postMessage({ id, name: asked.name, request: asked.request, ...(asked.ledger ? { ledger: true } : { now: Date.now() }) });
}

function sendWaiting() {
  for (const id of [...waiting.keys()]) send(id);
}

/**
 * Asks the core. The calls and their fields are those of internal/core.
 * @param {string} name
 * @param {object} request
 * @returns {Promise<any>} rejects with a CoreError
 */
export function call(name, request) {
  return ask(name, request);
}

/**
 * Gives the core records to count against or to reckon from; see data/rules.js and
 * ui/tanks/picture-held.js. What was given is gone when the
 * worker starts anew: then a give that is under way rejects.
 * @param {'openLedger' | 'addToLedger' | 'openTanks' | 'addToTanks'} name
 * @param {object} records
 * @returns {Promise<any>} rejects with a CoreError
 */
export function give(name, records) {
  return ask(name, records, true);
}

/** @param {string} name @param {object} request @param {boolean} [ledger] @returns {Promise<any>} */
function ask(name, request, ledger) {
  if (state.peek() === 'failed' || state.peek() === 'mismatch') {
    return Promise.reject(new CoreError('core_failed', 'The part of Wrackbook that reckons is not running.'));
  }
  return new Promise((resolve, reject) => {
    const id = ++lastId;
    waiting.set(id, { name, request: JSON.stringify(request), ledger, resolve, reject });
    send(id);
  });
}
