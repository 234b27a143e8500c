// Changes of this phone that do not count, and why.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { parseStamp } from '../../data/stamp.js';
import { syncState } from '../../data/sync.js';
import { notCounted } from '../../data/unsent.js';
import { here } from './here.js';
import { text } from '../../text/en.js';

/** A phone of years has many; the newest are those that somebody asks about. */
const MOST = 50;

export function Refused() {
  const t = text.sent;
  const list = useSignal(/** @type {Awaited<ReturnType<typeof notCounted>>} */ ([]));
  useEffect(() => {
    notCounted().then((found) => (list.value = found));
  }, [syncState.value.lastMs]);
  const n = list.value.length;
  if (n === 0) return null;
  return html`<details class="refused-changes" data-refused=${n}>
    <summary>${t.refused(n)}</summary>
    <p class="soft">${t.refusedWhy}</p>
    <ol class="entries">${list.value.slice(0, MOST).map(({ change, why }) => html`<li key=${change.id}>
      <strong>${t.kinds[change.kind] ?? change.kind}</strong>${typeof change.fields.name === 'string' && ` “${change.fields.name}”`}, ${here(parseStamp(change.stamp)?.ms ?? 0)}
      <span class="soft">${why}</span></li>`)}</ol>
  </details>`;
}
