// The acclimations on file: their events "acclimated", what was noted along the way.

import { computed } from '@preact/signals';
import { write } from '../../data/book.js';
import { uuidv7 } from '../../data/ids.js';
import { instant, owner } from '../shore/outing-state.js';
import { events } from './picture-state.js';

/** @typedef {{id: string, at: string, of: string, by: string | null, specimens: string[], plan: import('./acclimate-stages.js').Kept, ended: string | null, how?: string, notes: {id: string, at: string, by: string | null, what: string}[]}} Run */

/** All of them, the latest first. */
export const runs = computed(() => events.value.flatMap((event) => {
  const is = event.acclimated;
  if (!is?.plan?.way || !Array.isArray(is.plan.steps)) return [];
  const notes = Object.entries(event).flatMap(([field, value]) => (field.startsWith('along/') && value ? [{ id: field.slice('along/'.length), ...value }] : [])).sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  return [/** @type {Run} */ ({ id: event.id, ...is, specimens: is.specimens ?? [is.of.split('/')[1]], notes })];
}).sort((a, b) => Date.parse(b.at) - Date.parse(a.at)));

/** Those under way. */
export const underWay = computed(() => runs.value.filter(({ ended }) => !ended));

/**
 * The one that a specimen is in now.
 * @param {string} specimen
 */
export const runOf = (specimen) => underWay.value.find(({ specimens }) => specimens.includes(specimen));

/**
 * Begins one.
 * @param {string[]} specimens
 * @param {import('./acclimate-stages.js').Kept} plan
 */
export async function beginRun(specimens, plan) {
  const id = uuidv7();
  const kept = await write('event', id, { acclimated: { at: instant(), of: plan.to[0] ? `tank/${plan.to[0]}` : `specimen/${specimens[0]}`, by: owner.peek(), specimens, plan, ended: null } });
  return { id, kept };
}

/**
 * Goes on to the next stage, stops or ends: what means something together is one field.
 * @param {Run} run
 * @param {{plan?: import('./acclimate-stages.js').Kept, ended?: string, how?: 'done' | 'broken off'}} change
 */
export function setRun(run, change) {
  const { at, of, by, specimens, plan, ended, how } = { ...run, ...change };
  return write('event', run.id, { acclimated: { at, of, by, specimens, plan, ended, ...(how ? { how } : {}) } });
}

/** @param {Run} run @param {string} what */
export const noteAlong = (run, what) => write('event', run.id, { [`along/${uuidv7()}`]: { at: instant(), by: owner.peek(), what } });
