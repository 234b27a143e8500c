// Outings from which something was taken that has not been settled in yet.

import { computed } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { now } from '../parts/now.js';
import { records } from '../../data/book.js';
import { recallShores, shores } from '../plan/shore-state.js';
import { findOf } from '../shore/find.js';
import { outings } from '../shore/outing-state.js';
import { may, specimens } from './picture-state.js';
import { unsettled } from './settle-in.js';
import { tanks as text } from '../../text/en-tanks.js';

/** What was taken longer ago than this was not brought home to live. Milliseconds. */
const RECENT_MS = 7 * 86_400_000;

/** @param {string} outing id */
export const takenOn = (outing) => records('find').value.filter(({ fields, deleted }) => !deleted && fields.outing === outing && fields.fate === 'taken').map(findOf).sort((a, b) => a.atMs - b.atMs);

const waiting = computed(() => outings.value
  .filter(({ startedMs }) => startedMs !== null && now.value - startedMs < RECENT_MS)
  .map((outing) => ({ outing, n: unsettled(takenOn(outing.id), specimens.value).length }))
  .filter(({ n }) => n > 0));

export function WaitingOutings() {
  useEffect(() => void recallShores(), []);
  if (!may.value.decide) return null;
  return html`${waiting.value.map(({ outing, n }) => {
    const shore = shores.value.find(({ id }) => id === outing.shore)?.name;
    return html`<${Link} key=${outing.id} class="button main" to=${`/tanks/settle/${outing.id}`} data-settle=${n}>${shore ? text.home.settle(n, shore) : text.home.settleAny(n)}<//>`;
  })}`;
}
