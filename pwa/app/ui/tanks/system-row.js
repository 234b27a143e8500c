// A water system on one row of a list.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { dayName } from '../parts/when.js';
import { nameOf, namesOfAll } from './picture-state.js';
import { StateWord } from './strip.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @typedef {import('./picture-state.js').SystemState} SystemState */

/**
 * "9 of 21 quiet days, wait done on 14 Dec at the earliest"; '' where no clock runs.
 * @param {SystemState | undefined} state
 * @param {string} today
 */
export function progress(state, today) {
  if (!state || !['waiting', 'paused', 'done'].includes(state.state)) return '';
  const end = state.ends ? text.ends(dayName(state.ends, today)) : state.state !== 'done' && state.open.length > 0 ? text.endsNot : '';
  return [text.quiet(state.quiet, state.wait), end].filter(Boolean).join(', ');
}

/** @param {{state: SystemState, today: string}} props */
export function SystemRow({ state, today }) {
  const names = namesOfAll(state.residents);
  const who = state.residents.length === 0 ? text.residents(0) : names.length > 3 ? text.residents(state.residents.length) : names.join(', ');
  return html`<li data-system=${state.key} data-state=${state.state}><${Link} to=${`/tanks/system/${state.key}`}>
    <span class="row-head"><strong>${nameOf(state.key) || text.unnamed}</strong> <${StateWord} state=${state.state} /></span>
    ${progress(state, today) && html`<span>${progress(state, today)}</span>`}
    <span class="soft">${who}</span>
  <//></li>`;
}
