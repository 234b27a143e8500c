// The plan of an acclimation: the case to hurry first, then how, how fast, with what.

import { html } from '../parts/html.js';
import { duration } from '../parts/when.js';
import { OldWater } from './acclimate-water.js';
import { home } from './picture-state.js';
import { degrees, degreesApart, figure, litres } from './tank-units.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.acclimate;

/** In the tropics by what was read, where the household has not said; °C. Our own. */
const WARM_C = 20;

/** @param {{answer: any, wrong?: string, failed?: boolean, missing: string[], doubtful: boolean, draft: import('./tank-draft.js').Draft, jars: number}} props */
export function AcclimatePlan({ answer: plan, wrong, failed, missing, doubtful, draft, jars }) {
  const head = html`<h2 id="plan">${t.plan}</h2>`;
  if (!plan) return html`<section aria-labelledby="plan" data-plan="none">${head}<p aria-live="polite">${failed ? all.coreGone : doubtful ? all.wrongHead : missing.length ? t.missing(missing.map((name) => t.fields[name] ?? name)) : wrong ? html`<span class="wrong">${wrong}</span>` : all.notReckoned}</p><p class="soft">${t.noPlan}</p></section>`;
  const climate = home.value.climate;
  const tropical = climate === 'tropical' || (!climate && Number(draft.fields['bag.temperatureC'].value) >= WARM_C);
  return html`<section aria-labelledby="plan" data-plan=${plan.way} data-hurry=${Boolean(plan.hurry)}>${head}
    ${plan.hurry && html`<${Hurry} hurry=${plan.hurry} batch=${plan.batch} />`}
    <p class="plan-way">${t.ways[plan.way](jars)}</p>
    <p>${t.gap(figure(Math.abs(plan.gap), 1), plan.gap < 0, figure(plan.worstGap, 1))} ${plan.way === 'batch' ? t.batchWarm(degreesApart(plan.cPerHour.is)) : plan.floatMin > 0 ? (plan.hurry ? t.floatHurry : t.float)(duration(plan.floatMin), degreesApart(Math.abs(plan.gapC))) : t.noFloat}</p>
    ${plan.way === 'batch' && plan.batch && html`<${Batch} batch=${plan.batch} jars=${jars} />`}
    ${plan.way === 'drip' && html`<${Runs} plan=${plan} draft=${draft} />`}
    ${plan.cautions.length > 0 && html`<ul class="heed">${plan.cautions.map((/** @type {string} */ word) => html`<li data-caution=${word}>${t.cautions[word] ?? word}</li>`)}</ul>`}
    ${tropical && html`<p class="heed" data-tropics>${t.tropics}</p>`}
    <p class="soft">${t.rates(plan.perHour.is, degreesApart(plan.cPerHour.is), plan.perHour.from === 'household' || plan.cPerHour.from === 'household')}</p>
    <${OldWater} />
  </section>`;
}

/** @param {{hurry: any, batch: any}} props */
export function Hurry({ hurry, batch }) {
  const h = t.hurry;
  return html`<div class="heed grave" data-hurry=${hurry.atOnce ? 'atOnce' : hurry.measured ? 'measured' : 'hours'} role="note"><p><strong>${hurry.measured ? (hurry.atOnce ? h.atOnce : h.title) : h.hours}</strong></p>
    <p>${h.why} ${hurry.measured && h.measured(hurry.now, hurry.open)}</p>
    <ol class="numbered">${h.steps(batch ? litres(batch.litres) : '').map((/** @type {string} */ one) => html`<li>${one}</li>`)}</ol></div>`;
}

/** @param {{batch: any, jars: number}} props */
const Batch = ({ batch, jars }) => html`<p data-batch>${t.batch(litres(batch.litres), figure(batch.salinityLow, 1), figure(batch.salinityHigh, 1), degrees(batch.lowC), degrees(batch.highC))} ${jars > 1 ? t.batchJars : ''} ${t.tap}</p>`;

/** @param {{plan: any, draft: import('./tank-draft.js').Draft}} props */
function Runs({ plan, draft }) {
  const discard = draft.fields.discard;
  return html`<fieldset class="runs"><legend>${t.howToDrip}</legend>${plan.drips.map((/** @type {any} */ run) => {
    const is = run.discard ? 'yes' : 'no';
    return html`<div class="run" key=${is} data-run=${run.discard ? 'discard' : 'fill'} data-chosen=${discard.value === is}>
      <label class="option"><input type="radio" name="discard" value=${is} checked=${discard.value === is} onChange=${() => (discard.value = is)} /> <strong>${run.discard ? t.discard : t.fill}</strong></label>
      <p><span class="big-number">${run.steps[0] ? figure(run.steps[0].dropsMin, 0) : '–'}</span> ${t.dropsMin} <span class="soft">${run.steps[0] && t.mlMin(figure(run.steps[0].mlMin, 1))}</span></p>
      <p>${t.takes(duration(run.minutes), litres(run.waterL), litres(run.containerL))} ${t.left(figure(Math.abs(run.left), 1), Math.round(run.closed * 100))}</p>
      ${discard.value === is && html`<${StepsTable} steps=${run.steps} /> <p class="soft">${run.discard ? t.discardHow : t.fillHow}</p>`}
    </div>`;
  })}</fieldset>`;
}

/**
 * @param {{steps: import('./acclimate-stages.js').Step[], at?: number, times?: string[]}} props at: the row that holds now; times: the clock times of the rows
 */
export function StepsTable({ steps, at, times }) {
  // What stays the same is not a column.
  const [warms, fills] = [steps.some(({ tempC }) => tempC !== steps[0].tempC), steps.some(({ volumeL }) => volumeL !== steps[0].volumeL)];
  return html`<div class="scroll" tabindex="0" role="region" aria-label=${t.table}><table class="steps-table"><thead><tr><th scope="col">${times ? t.clock : t.minute}</th><th scope="col">${t.drip}</th><th scope="col">${all.kinds.salinity}</th>${warms && html`<th scope="col">${all.kinds.temperatureC}</th>`}${fills && html`<th scope="col">${t.inIt}</th>`}</tr></thead>
    <tbody>${steps.map((step, i) => html`<tr key=${step.minute} data-now=${i === at}><th scope="row">${times ? times[i] : duration(step.minute)}</th><td>${step.dropsMin > 0 ? t.rate(figure(step.dropsMin, 0), figure(step.mlMin, 1)) : t.stop}</td><td>${figure(step.salinity, 1)}</td>${warms && html`<td>${degrees(step.tempC)}</td>`}${fills && html`<td>${litres(step.volumeL)}</td>`}</tr>`)}</tbody></table></div>`;
}
