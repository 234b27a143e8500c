// What is missing before a specimen may be cleared, in sentences. Nothing here but words.

import { tanks as text } from '../../text/en-tanks.js';

/**
 * @param {Pick<import('./picture-state.js').SpecimenState, 'missing' | 'dips' | 'dipsNeeded' | 'searches' | 'searchesNeeded'>} state
 * @param {Pick<import('./picture-state.js').SystemState, 'quiet' | 'wait'> | undefined} system
 * @returns {string[]}
 */
export function missingWords(state, system) {
  const t = text.missing;
  return state.missing.map((word) => {
    if (word === 'days') return system && system.wait > system.quiet ? t.days(system.wait - system.quiet, system.wait) : t.daysThen;
    if (word === 'dips') return t.dips(state.dips, state.dipsNeeded);
    const says = /** @type {Record<string, any>} */ (t)[word];
    return typeof says === 'string' ? says : t.other(word);
  });
}
