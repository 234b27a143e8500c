// Start back, above everything else: on every page of the shore, and on every place while an
// outing is under way. It grows as the time comes; words and shapes say so before colour.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { clock, dayName } from '../parts/when.js';
import { parts, place } from '../route.js';
import { beatMs } from './beat.js';
import { clockAt } from './clocks.js';
import { minutesTo } from './now-limits.js';
import { ended, heights, inDoubt, limits, spot, stage, standing, today, turns, windows } from './now-state.js';
import { underWay } from './outing-state.js';
import { Warning } from './warning.js';
import { text } from '../../text/en.js';

/** Pages about another day, which have its start back themselves: two would be confused. */
const PLANNING = ['outing', 'slate', 'catch-up', 'start'];

export function BackHead() {
  const outing = underWay.value;
  const at = spot.value;
  if (place.value !== 'shore' && !outing) return null;
  if (!outing && (!at || inDoubt.value || PLANNING.includes(parts.value[1]))) return null;
  const large = place.value === 'shore' && parts.value.length === 1;
  const now = stage.value ?? 'none';
  return html`<aside class="back-head" aria-label=${text.staff.head.label} data-stage=${now} data-large=${large}
      data-why=${limits.value?.why} data-start-back=${limits.value?.startBackMs} data-off-by=${limits.value?.offByMs}>
    ${limits.value ? html`<${Known} at=${limits.value} now=${now} />` : html`<${Unknown} />`}
    ${place.value !== 'shore' && html`<${Link} class="to-staff" to="/shore">${text.staff.head.open}<//>`}
    <${Warning} />
  </aside>
  ${limits.value && large && html`<${More} why=${limits.value.why} now=${now} />`}`;
}

/**
 * What to do, under the head: it may be scrolled away.
 * @param {{why: import('./outing.js').Limits['why'], now: string}} props
 */
function More({ why, now }) {
  const t = text.staff.head;
  const says = [t.why[why], now === 'off' ? t.offDo : now === 'back' && why !== 'thunder' ? t.backDo : ''].filter(Boolean);
  return says.length > 0 && html`<aside class="back-more" aria-label=${t.moreLabel}>${says.map((line) => html`<p>${line}</p>`)}
    ${now === 'off' && html`<${Link} class="button grave" to="/shore/help">${text.staff.ways.help}<//>`}</aside>`;
}

/** @param {{at: import('./outing.js').Limits, now: string}} props */
function Known({ at: { startBackMs, offByMs }, now }) {
  const t = text.staff.head;
  const nowMs = beatMs.value;
  const { low } = turns.value;
  const [back, off] = [clockAt(startBackMs), clockAt(offByMs)];
  const turn = now === 'off' ? html`<strong class="call">${t.off}</strong>` : now === 'back' ? html`<strong class="call">${t.now}</strong>`
    : html`<strong class="call"><span>${t.startBack}</span> <b>${back}</b></strong> <span class="in">${t.in(minutesTo(startBackMs, nowMs))}</span>`;
  return html`<${Shape} of=${now} />
    <p class="turn-back">${turn}</p>
    <p class="off">${now === 'off' ? t.wasOff(off) : html`${now === 'back' && `${t.wasBack(back)} `}<b>${t.offBy(off)}</b>${now === 'back' && `, ${t.offIn(minutesTo(offByMs, nowMs))}`}`}</p>
    ${low && low.ms <= offByMs && html`<p class="low-in" data-low-in=${minutesTo(low.ms, nowMs)}>${t.low(minutesTo(low.ms, nowMs))}</p>`}`;
}

/** No limit holds: which is never shown as if all were well. */
function Unknown() {
  const t = text.staff.head;
  const found = windows.value;
  if (underWay.value) return html`<${Shape} of="none" /><p class="turn-back"><strong class="call">${t.none}</strong></p><p>${t.noneWhy}</p>`;
  if (!found) {
    const stopped = standing.value.is === 'kept' || standing.value.is === 'none';
    return html`<${Shape} of="none" /><p class="turn-back"><strong class="call">${stopped ? t.none : t.waiting}</strong></p><p>${stopped ? t.stoppedWhy : t.waitingWhy}</p>`;
  }
  const { next, over } = found;
  const zone = spot.value?.zone ?? 'UTC';
  const on = (/** @type {string} */ instant) => clock(instant, zone);
  return html`<p class="turn-back"><strong class="call">${ended.value ? t.ended : over ? t.over : t.noneToday}</strong></p>
    <p>${next ? t.next(dayName(next.day, today.value), on(next.usableFrom), on(next.usableTo), on(next.startBack)) : t.noNext} ${heights.value && t.staffStill}</p>`;
}

/** The second sign after the words, for who sees no colour. */
const shapes = {
  soon: 'M4 26 16 6 28 26Z', // an empty triangle
  near: 'M4 26 16 6 28 26Z', // a filled one
  back: 'M14 4 2 16 14 28V20H30V12H14Z', // an arrow, back
  off: 'M11 2H21L30 11V21L21 30H11L2 21V11Z', // eight corners
  none: 'M16 3 29 16 16 29 3 16Z', // a lozenge: not known
};

/** @param {{of: string}} props */
function Shape({ of }) {
  const path = /** @type {Record<string, string>} */ (shapes)[of];
  return path && html`<svg class="stage-shape" viewBox="0 0 32 32" aria-hidden="true"><path d=${path} class=${of === 'soon' || of === 'none' ? 'open' : ''} /></svg>`;
}
