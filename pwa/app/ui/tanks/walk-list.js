// A walk along the jars: which systems it goes to, and what is written of each. Nothing here
// but reading.

/** @typedef {import('./picture-state.js').SystemState} SystemState */
/**
 * same: as the others, no signs seen. seen: something was. not: nobody looked.
 * @typedef {'same' | 'seen' | 'not'} Looked
 */
/**
 * What is chosen for one system.
 * @typedef {{looked: Looked, topUp: boolean}} Step
 */

/** @type {Step} */
export const UNTOUCHED = { looked: 'same', topUp: false };

/**
 * The systems that somebody lives in.
 * @param {SystemState[]} systems in shelf order
 */
export const stops = (systems) => systems.filter(({ residents }) => residents.length > 0);

/**
 * What the choices come to.
 * @param {SystemState[]} list
 * @param {Record<string, Step>} steps by key
 */
export function outcome(list, steps) {
  const of = (/** @type {string} */ key) => steps[key] ?? UNTOUCHED;
  const keys = list.map(({ key }) => key);
  return {
    same: keys.filter((key) => of(key).looked === 'same'),
    seen: keys.filter((key) => of(key).looked === 'seen'),
    topUps: keys.filter((key) => of(key).topUp),
  };
}
