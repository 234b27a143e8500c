// What the water stands on, in words: how old it is, and whether the phone's clock is known
// to be right.

import { html } from '../parts/html.js';
import { clockOffMs } from '../../data/sync.js';
import { dayAndClock } from '../parts/when.js';
import { failure, spot, standing } from './now-state.js';
import { text } from '../../text/en.js';

export function Standing() {
  const t = text.staff.standing;
  const { is, atMs } = standing.value;
  const from = atMs === undefined ? '' : dayAndClock(new Date(atMs).toISOString(), spot.value?.zone ?? 'UTC');
  const says = is === 'fresh' ? t.fresh : is === 'reckoning' ? (from ? t.reckoning(from) : t.reckoningFirst) : is === 'kept' ? t.kept(from) : t.none;
  return html`<p class=${is === 'none' ? 'heed' : is === 'fresh' ? 'soft' : 'stale'} data-standing=${is}>${says} ${is !== 'fresh' && failure.value?.message}</p>
    ${clockOffMs.value === null && html`<p class="stale" data-clock="unchecked">${t.clockUnchecked}</p>`}`;
}
