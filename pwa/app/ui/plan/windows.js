// The list of windows, or why there is none.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { dayAndClock, knowsZone } from '../parts/when.js';
import { failure, shore, shown, today } from './plan-state.js';
import { WindowRow } from './window-row.js';
import { text } from '../../text/en.js';

export function Windows() {
  const at = /** @type {import('./plan-state.js').Shore} */ (shore.value);
  const list = shown.value;
  const says = failure.value ? `${text.plan.failed} ${failure.value.message}`
    : !list ? text.plan.reckoning
    : list.keptAt ? text.plan.kept(dayAndClock(list.keptAt, at.zone))
    : list.answer.windows.length ? text.plan.found(list.answer.windows.length)
    : '';
  useEffect(() => announce(says), [says]);

  const none = list?.answer.none;
  return html`<section class="windows" aria-busy=${!list && !failure.value} data-question=${list?.question} data-kept=${String(Boolean(list?.keptAt))}>
    <h2 class="unseen">${text.plan.listTitle}</h2>
    <p class=${failure.value ? 'wrong' : 'soft'}>${says}</p>
    ${list && html`<p class="soft">${knowsZone(at.zone) ? text.window.zone(at.zone) : text.window.zoneUtc}</p>`}
    ${none && html`<p class="none">${none.text}</p>`}
    ${none?.next && html`<p>${text.window.next}</p><ol><${WindowRow} window=${none.next} zone=${at.zone} today=${today(at)} /></ol>`}
    <ol>${list?.answer.windows.map((/** @type {any} */ w) => html`<${WindowRow} key=${w.opens} window=${w} zone=${at.zone} today=${today(at)} />`)}</ol>
  </section>`;
}
