// What is done while an outing is under way, in touches.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { level } from '../parts/when.js';
import { Link } from '../parts/link.js';
import { beatMs } from './beat.js';
import { clockAt } from './clocks.js';
import { mayPlan } from './may-plan.js';
import { limits, spot, water } from './now-state.js';
import { HEADS_MINUTES, lastOf } from './outing.js';
import { unkept } from './outing-state.js';
import { setPhone } from './phone-state.js';
import { keepHigher } from './saw-higher.js';
import { ThunderButton } from './thunder.js';
import { text } from '../../text/en.js';

/**
 * When heads are counted next: a quarter of an hour after the last count, and at start back.
 * @param {import('./outing.js').Outing} outing
 * @param {number | undefined} startBackMs
 */
export function headsDue(outing, startBackMs) {
  const last = lastOf(outing.heads)?.atMs ?? outing.startedMs ?? 0;
  const due = last + HEADS_MINUTES * 60_000;
  return startBackMs !== undefined && last < startBackMs ? Math.min(due, startBackMs) : due;
}

/** @param {{outing: import('./outing.js').Outing}} props */
export function UnderWay({ outing }) {
  const t = text.staff.under;
  const left = Math.ceil((headsDue(outing, limits.value?.startBackMs) - beatMs.value) / 60_000);
  const due = left <= 0;
  const last = lastOf(outing.heads);
  return html`<section class="under-way" aria-labelledby="under-way" data-outing=${outing.id}>
    <h2 class="unseen" id="under-way">${t.title}</h2>
    ${unkept.value && html`<p class="heed">${t.unkept}</p>`}
    ${outing.ashore && Date.parse(outing.ashore.dueBack) < beatMs.value && html`<p class="heed" data-late>${t.late(clockAt(Date.parse(outing.ashore.dueBack)), outing.ashore.who)}</p>`}
    ${!mayPlan() && html`<p class="soft">${t.notYours}</p>`}
    <div class="touches">
      ${mayPlan() && html`<${Link} class=${due ? 'button due' : 'button'} to="/shore/heads" data-heads=${due ? 'due' : left}><b>${t.heads}</b> <span>${t.headsIn(due ? 0 : left)}${last ? `, ${t.headsLast(last.count, clockAt(last.atMs))}` : ''}</span><//>`}
      <${ThunderButton} />
      <${AtMarker} outing=${outing.id} />
      <${Link} class="button" to="/shore/higher"><b>${t.higher}</b><//>
      <button type="button" data-do="lock" onClick=${() => setPhone({ locked: true })}>${t.lock}</button>
    </div>
  </section>`;
}

/**
 * One touch when the sea stands at the marker rock, if the shore has one.
 * @param {{outing: string}} props id
 */
function AtMarker({ outing }) {
  const said = useSignal('');
  const marker = spot.value?.marker;
  if (!marker || !water.value) return null;
  return html`<button type="button" class="wide" data-do="at-marker" onClick=${async () => (said.value = await keepHigher(outing, { levelM: marker.heightM }))}>${text.staff.higher.marker(marker.what, level(marker.heightM))}</button>
    ${said.value && html`<p class="stale wide" data-at-marker>${said.value}</p>`}`;
}
