// What the water stands on, in words: how old it is, and whether the phone's clock is known
// to be right.

import { html } from '../parts/html.js';
import { clockOffMs } from '../../data/sync.js';
import { dayAndClock } from '../parts/when.js';
import { failure, spot, standing } from './now-state.js';
import { text } from '../../text/en.js';

/** What is not of now, which stands above the drawing. */
export function Stale() {
  return standing.value.is === 'fresh' ? null : html`<${Standing} />`;
}

function Standing() {
  const t = text.staff.standing;
  const { is, atMs } = standing.value;
  const from = atMs === undefined ? '' : dayAndClock(new Date(atMs).toISOString(), spot.value?.zone ?? 'UTC');
  const says = is === 'fresh' ? t.fresh : is === 'reckoning' ? (from ? t.reckoning(from) : t.reckoningFirst) : is === 'kept' ? t.kept(from) : t.none;
  return html`<p class=${is === 'none' ? 'heed' : is === 'fresh' ? 'soft' : 'stale'} data-standing=${is}>${says} ${is !== 'fresh' && failure.value?.message}</p>`;
}

/** What is of now, and whether the clock is known to be right: under the drawing. */
export function Notes() {
  return html`${standing.value.is === 'fresh' && html`<${Standing} />`}
    ${clockOffMs.value === null && html`<p class="stale" data-clock="unchecked">${text.staff.standing.clockUnchecked}</p>`}`;
}
