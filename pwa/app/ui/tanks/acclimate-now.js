// What to do at this moment of an acclimation, large, and when the next step comes.

import { html } from '../parts/html.js';
import { clock } from '../parts/when.js';
import { countdown, worded } from './acclimate-stages.js';
import { nameOf, zone } from './picture-state.js';
import { degrees, figure, litres } from './tank-units.js';
import { tanks as text } from '../../text/en-tanks.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.run;

/** Drops a minute that nobody counts. */
const FAST = 150;

/** @param {{plan: import('./acclimate-stages.js').Kept, stands: ReturnType<typeof import('./acclimate-stages.js').standing>, still: boolean, nowMs: number}} props */
export function RunNow({ plan, stands, still, nowMs }) {
  const { stage, next, dueMs, late, step } = stands;
  const at = dueMs === null ? '' : clock(new Date(nowMs + Math.max(0, dueMs)).toISOString(), zone.value);
  const row = plan.steps[step];
  const then = plan.steps[step + 1];
  const shown = stage ?? next;
  return html`<section class="next" data-late=${late} aria-labelledby="run-now">
    <h2 id="run-now" tabindex="-1">${stage ? t.now : t.first}</h2>
    <p class="plan-way">${shown && t.stages[worded(plan, shown)]}</p>
    ${shown === 'prepare' && plan.batch && html`<p>${all.acclimate.batch(litres(plan.batch.litres), figure(plan.batch.salinityLow, 1), figure(plan.batch.salinityHigh, 1), degrees(plan.batch.lowC), degrees(plan.batch.highC))} ${plan.to.length > 1 ? all.acclimate.batchJars : ''}</p>`}
    ${shown && html`<p>${t.how[worded(plan, shown)](plan.hurry, plan.discard, plan.way === 'batch')}</p>`}
    ${stage === 'drip' && row && !late && html`<p><span class="big-number" data-drops>${row.dropsMin > 0 ? figure(row.dropsMin, 0) : '0'}</span> ${t.drops} <span class="soft">${all.acclimate.mlMin(figure(row.mlMin, 1))}${row.dropsMin > FAST ? ` ${t.fast}` : ''}</span></p>
      <p class="soft">${t.stands(figure(row.salinity, 1), degrees(row.tempC), litres(row.volumeL))}</p>`}
    ${still ? html`<p class="heed" role="status">${t.still}</p>`
      : dueMs !== null && html`<p>${late ? html`<strong>${stage === 'float' ? t.floatOver : t.dripOver}</strong>` : html`<span class="big-number" data-countdown>${countdown(dueMs)}</span> ${stage === 'float' ? t.untilFloat(at) : then ? t.untilStep(at, figure(then.dropsMin, 0), then.dropsMin > 0) : t.untilEnd(at)}`}</p>`}
    ${(stage === 'in' || (!stage && next === 'in')) && html`<p>${plan.to.length > 0 && t.into(text.and(plan.to.map((id) => nameOf(`tank/${id}`))))} ${plan.way === 'drip' ? t.leftGap(figure(Math.abs(plan.left), 1)) : ''}</p>`}
  </section>`;
}
