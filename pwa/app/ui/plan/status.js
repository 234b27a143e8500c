// What the core is doing about a question, in one line, and the way to try again.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { state, start } from '../../core.js';
import { announce } from '../parts/announce.js';
import { dayAndClock, knowsZone } from '../parts/when.js';
import { text } from '../../text/en.js';

/**
 * @param {{of: {shown: import('@preact/signals').Signal<any>, failure: import('@preact/signals').Signal<any>}, zone: string, found: string, more?: string}} props
 *   found says what there is, once it is reckoned; more is said beside it, and not aloud
 */
export function Status({ of: { shown, failure }, zone, found, more }) {
  const t = text.plan;
  const stopped = state.value === 'failed' || state.value === 'mismatch';
  const now = shown.value;
  const says = failure.value ? `${t.failed} ${failure.value.message}`
    : !now ? (stopped ? t.failed : t.reckoning)
    : now.keptAt ? `${t.kept(dayAndClock(now.keptAt, zone))} ${stopped ? '' : t.again}`
    : found;
  useEffect(() => announce(says), [says]);
  return html`<p class=${failure.value ? 'wrong' : 'soft'} data-status>${says} ${now && (knowsZone(zone) ? t.zone(zone) : t.zoneUtc)} ${now && more}</p>
    ${stopped && html`<button type="button" class="quiet" data-do="retry" onClick=${start}>${t.retry}</button>`}`;
}
