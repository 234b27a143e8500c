// An acclimation under way: what to do now, when the next step comes, what was noted. What is
// kept are instants in the book, so that a reload, a restart or another phone goes on with it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { clock, dayAndClock, duration } from '../parts/when.js';
import { Page } from '../house/page.js';
import { instant } from '../shore/outing-state.js';
import { StepsTable } from './acclimate-plan.js';
import { AcclimateAlong } from './acclimate-along.js';
import { RunNow } from './acclimate-now.js';
import { runs, setRun } from './acclimate-runs.js';
import { standing, stepTimes, stopped, worded } from './acclimate-stages.js';
import { awake, wanted, want, whileShown } from './acclimate-wake.js';
import { OldWater } from './acclimate-water.js';
import { Confirm } from '../house/confirm.js';
import { may, nameOf, namesOfAll, read, zone } from './picture-state.js';
import { figure, litres } from './tank-units.js';
import { tanks as text } from '../../text/en-tanks.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.run;

/** @param {{id: string}} props of the event */
export function RunPage({ id }) {
  const run = runs.value.find((one) => one.id === id);
  const who = run ? text.few(namesOfAll(run.specimens)) : '';
  const frame = (/** @type {any} */ inside) => html`<${Page} title=${run ? t.title(who) : t.titleAny} to="/tanks" back=${text.back}>${inside}<//>`;
  if (!read.value) return frame(null);
  if (!run) return frame(html`<p>${text.gone}</p>`);
  return frame(run.ended ? html`<${Ended} run=${run} />` : html`<${Running} key=${id} run=${run} />`);
}

/** The time, to the second, while it is looked at; a phone that wakes is told at once. */
function useSeconds() {
  const now = useSignal(Date.now());
  useEffect(() => {
    const tick = () => void (now.value = Date.now());
    const timer = setInterval(tick, 1000);
    document.addEventListener('visibilitychange', tick);
    addEventListener('pageshow', tick);
    return () => {
      clearInterval(timer);
      document.removeEventListener('visibilitychange', tick);
      removeEventListener('pageshow', tick);
    };
  }, []);
  return now.value;
}

/** @param {{run: import('./acclimate-runs.js').Run}} props */
function Running({ run }) {
  const nowMs = useSeconds();
  const says = useSignal('');
  const breaks = useSignal(false);
  useEffect(whileShown, []);
  const { plan } = run;
  const stands = standing(plan, nowMs);
  const still = stopped(plan);
  const key = `${stands.stage} ${stands.step} ${stands.late}`;
  useEffect(() => {
    if (stands.stage === 'drip' && plan.steps[stands.step]) announce(stands.late ? t.dripOver : t.nowDrip(figure(plan.steps[stands.step].dropsMin, 0)));
    else if (stands.stage === 'float' && stands.late) announce(t.floatOver);
  }, [key]);

  /** @param {Parameters<typeof setRun>[1]} change @param {string} words */
  const set = async (change, words) => {
    const kept = await setRun(run, change);
    says.value = kept ? '' : all.unkept;
    announce(kept ? words : all.unkept);
    requestAnimationFrame(() => document.getElementById('run-now')?.focus());
  };
  const goOn = () => {
    if (!stands.next) return set({ ended: instant(), how: 'done' }, t.ended);
    return set({ plan: { ...plan, marks: { ...plan.marks, [stands.next]: instant() }, stops: still ? plan.stops.map(([from, to]) => [from, to ?? instant()]) : plan.stops } }, t.stages[worded(plan, stands.next)]);
  };
  const pause = () => set({ plan: { ...plan, stops: still ? plan.stops.map(([from, to]) => [from, to ?? instant()]) : [...plan.stops, [instant(), null]] } }, still ? t.runsAgain : t.standsStill);
  const early = stands.dueMs !== null && !stands.late;
  const does = stands.next ? t.does[worded(plan, stands.next)] : t.doesEnd;
  const times = stepTimes(plan, nowMs).map((ms) => clock(new Date(ms).toISOString(), zone.value));

  return html`<div class="running" data-run=${run.id} data-stage=${stands.stage ?? 'before'} data-step=${stands.step} data-still=${still}>
    <div class="run-main">
      <${RunNow} plan=${plan} stands=${stands} still=${still} nowMs=${nowMs} />
      <p class="wrong" role="alert">${says.value}</p>
      ${may.value.decide ? html`<div class="tank-do">
        <button type="button" class=${early ? '' : 'main'} data-do="on" data-early=${early} onClick=${(/** @type {MouseEvent} */ e) => e.detail < 2 && goOn() /* a wet thumb touches twice, and would skip the float */}>${early ? t.early(does) : does}</button>
        ${stands.stage === 'drip' && html`<button type="button" data-do="pause" onClick=${pause}>${still ? t.goOn : t.pause}</button>`}
        <button type="button" class="quiet" data-do="break" onClick=${() => (breaks.value = true)}>${t.breakOff}</button>
      </div>` : html`<p class="soft">${text.due.child}</p>`}
      ${breaks.value && html`<${Confirm} asks=${t.breakAsk} says=${t.breakSays} does=${t.breakOff} act=${() => set({ ended: instant(), how: 'broken off' }, t.broken)} leave=${() => (breaks.value = false)} />`}
      <${AcclimateAlong} run=${run} />
    </div>
    <div class="run-side">
      ${plan.way === 'drip' && html`<section aria-labelledby="table"><h2 id="table">${t.table}</h2>
        <p class="soft">${plan.discard ? all.acclimate.discardHow : all.acclimate.fillHow} ${t.inAll(duration(plan.minutes), litres(plan.waterL))}</p>
        <${StepsTable} steps=${plan.steps} at=${stands.stage === 'drip' ? stands.step : undefined} times=${times.length ? times : undefined} /></section>`}
      <section aria-labelledby="wake"><h2 id="wake">${t.warn}</h2><p>${t.sleeps} ${times.length > 1 && plan.way === 'drip' ? t.alarms(times.filter((_, i) => i > stands.step)) : ''}</p>
        <label class="check"><input type="checkbox" name="awake" checked=${wanted.value} onChange=${(/** @type {any} */ e) => want(e.target.checked)} /> ${t.awake}</label>
        ${wanted.value && awake.value !== 'on' && html`<p class="soft" data-awake=${awake.value}>${t.awakeIs[awake.value]}</p>`}</section>
      <${OldWater} />
    </div>
  </div>`;
}

/** @param {{run: import('./acclimate-runs.js').Run}} props */
function Ended({ run }) {
  const to = run.plan.to ?? [];
  useEffect(() => document.getElementById('run-ended')?.focus(), []);
  return html`<div class="running" data-run=${run.id} data-ended=${run.how ?? 'done'}><div class="run-main">
    <p class="plan-way" id="run-ended" tabindex="-1">${run.how === 'broken off' ? t.wasBroken(dayAndClock(run.ended ?? '', zone.value)) : t.wasDone(dayAndClock(run.ended ?? '', zone.value), duration(Math.round((Date.parse(run.ended ?? '') - Date.parse(run.at)) / 60_000)))}</p>
    <p>${run.how === 'broken off' ? t.afterBroken : t.after}</p>
    <div class="tank-do">${to[0] && html`<${Link} class="button main" to=${`/tanks/tank/${to[0]}`}>${text.check.toSystem(nameOf(`tank/${to[0]}`))}<//>`}<${Link} class="button" to="/tanks">${text.check.toTanks}<//></div>
    <${AcclimateAlong} run=${run} />
  </div><div class="run-side"><${OldWater} /></div></div>`;
}
