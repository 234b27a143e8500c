// A specimen on one row of a list: its name, where it lives, its days.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { nameOf, systemOf } from './picture-state.js';
import { Strip, StateWord } from './strip.js';
import { progress } from './system-row.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @typedef {import('./picture-state.js').SpecimenState} SpecimenState */

/**
 * How it stands in a few words.
 * @param {SpecimenState} state
 * @param {string} today
 */
export function standing(state, today) {
  const t = text.specimen;
  if (state.gone) return /** @type {Record<string, string>} */ (t.gone)[state.gone] ?? state.gone;
  if (!state.system) return t.notArrived;
  if (state.cleared) return state.missing.length > 0 ? t.clearedNot : t.clearedWord;
  const system = systemOf(state.system)?.state;
  return progress(system, today) || (system?.state === 'stopped' ? t.stopped : t.noClock);
}

/** @param {{state: SpecimenState, today: string}} props */
export function SpecimenRow({ state, today }) {
  const system = state.system ? systemOf(state.system) : undefined;
  const clock = !state.gone && !state.cleared && system?.state && !['none', 'empty'].includes(system.state.state);
  return html`<li data-specimen=${state.id}><${Link} to=${`/tanks/specimen/${state.id}`}>
    <span class="row-head"><strong>${nameOf(`specimen/${state.id}`) || text.unnamed}</strong> ${clock && html`<${StateWord} state=${system?.state?.state} />`}</span>
    <span class="soft">${[system?.name, nameOf(`tank/${state.tank}`)].filter((one, i, list) => one && list.indexOf(one) === i).join(', ')}</span>
    ${clock && html`<${Strip} days=${system?.state?.days ?? []} today=${today} from=${state.arrived} />`}
    <span class=${state.cleared && state.missing.length > 0 ? 'overdue' : ''}>${standing(state, today)}</span>
  <//></li>`;
}
