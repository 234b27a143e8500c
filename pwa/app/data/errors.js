// The last errors of this phone, for House: there is nobody else to report them to.

import { append, all } from './db.js';

const MOST = 50;
const LONGEST = 300;

/** @typedef {{at: string, what: string, build: string}} Recorded */

/** @param {string} what */
export function record(what) {
  append('errors', { at: new Date().toISOString(), what: what.slice(0, LONGEST), build: BUILD }, MOST);
}

/** @returns {Promise<Recorded[]>} newest first */
export async function recorded() {
  return (await all('errors')).reverse();
}
