// The first page of Shore: the staff, and what there is to do.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { metres } from '../parts/when.js';
import { beatMs } from './beat.js';
import { nearest } from './clocks.js';
import { mayPlan, useBook } from './may-plan.js';
import { minutesTo } from './now-limits.js';
import { inDoubt, planned, spot, turns, water } from './now-state.js';
import { underWay } from './outing-state.js';
import { PhonePanel } from './phone-panel.js';
import { StaffDrawing, trendOf } from './staff-drawing.js';
import { Notes, Stale } from './standing.js';
import { Thunder } from './thunder.js';
import { UnderWay } from './under-way.js';
import { takes } from '../../text/en-takes.js';
import { text } from '../../text/en.js';

export function StaffPage() {
  const t = text.staff;
  const at = spot.value;
  const outing = underWay.value;
  const known = useBook();
  if (!known && !at) return html`<div class="onshore staff-page"><h1>${text.shore.title}</h1></div>`;
  return html`<div class="onshore staff-page">
    <h1>${at ? at.name : text.shore.title}</h1>
    ${!at ? html`<p>${outing ? t.goneShore : t.noShore}</p>${!outing && html`<${Link} class="button main" to="/plan">${t.toPlan}<//>`}`
    : inDoubt.value ? html`<p class="heed" data-doubt>${t.doubt}</p><${Link} class="button main" to="/plan">${t.toDoubt}<//>`
    : html`<${Thunder} />
      <div class="staff-columns">
        <${Water} shore=${at} />
        <div class="staff-side">${outing && html`<${UnderWay} outing=${outing} />`}<${Ways} /><${PhonePanel} /></div>
        <${About} shore=${at} />
      </div>`}
    ${outing && (!at || inDoubt.value) && html`<${Thunder} /><${UnderWay} outing=${outing} />`}
    ${known && (at || outing) && html`<${Main} />`}
  </div>`;
}

/** @param {{shore: import('../../data/shore-record.js').Shore}} props */
function Water({ shore }) {
  const t = text.staff.water;
  const now = water.value;
  const { low } = turns.value;
  return html`<section class="water" aria-labelledby="water">
    <h2 class="unseen" id="water">${t.title}</h2>
    ${now && html`<p class="water-now" data-water=${now.heightM} data-rate=${now.rateMPerHour} data-at=${beatMs.value}><b>${t.predicted(metres(now.heightM), t.trends[trendOf(now.rateMPerHour)])}</b>, ${t.look}</p>`}
    <${Stale} />
    ${now && html`<${StaffDrawing} shore=${shore} water=${now} low=${ebbs() ? low : undefined} small=${Boolean(underWay.value)} />`}
    ${shore.wayOff === null && html`<p class="heed">${t.cutUnknown}</p>`}
  </section>`;
}

/** Whether low water comes before high water. */
function ebbs() {
  const { low, high } = turns.value;
  return !high || Boolean(low && low.ms < high.ms);
}

/**
 * The waters to come, and what all of it stands on.
 * @param {{shore: import('../../data/shore-record.js').Shore}} props
 */
function About({ shore }) {
  const t = text.staff.water;
  const { low, high } = turns.value;
  const lowSays = low ? t.lowIn(minutesTo(low.ms, beatMs.value), nearest(low.ms), metres(low.heightM)) : '';
  const highSays = high ? t.highAt(nearest(high.ms), metres(high.heightM)) : '';
  return html`<section class="staff-about" aria-label=${t.about}>
    ${low && html`<p class="turns" data-low=${low.ms}>${ebbs() ? t.turns(lowSays, highSays) : t.turns(highSays, lowSays)}</p>`}
    <${Notes} />
    ${water.value && html`<p class="soft">${shore.datum ? t.datum(shore.datum) : t.noDatum}</p>`}
  </section>`;
}

function Ways() {
  const t = text.staff.ways;
  return html`<nav class="shore-ways" aria-label=${t.label}>
    <${Link} class="button" to="/shore/help">${t.help}<//>
    ${underWay.value && mayPlan() ? null : html`<${LogLink} />`}
    <${Link} class="button" data-do="may" to="/shore/may">${takes.may}<//>
    <${Link} class="button" to="/shore/today">${t.today}<//>
    ${underWay.value ? null : html`<${Link} class="button" to="/shore/outing/new">${t.plan}<//>`}
    <${Link} class="button" to="/shore/outings">${t.outings}<//>
  </nav>`;
}

const LogLink = () => html`<${Link} class="button" to="/shore/log">${text.staff.ways.log}<//>`;

/** The one thing to do next, under the thumb; on an outing also what is done most. */
function Main() {
  const t = text.staff;
  if (!mayPlan()) return null;
  if (underWay.value) return html`<div class="under-thumb two"><${LogLink} /><${Link} class="button main" to="/shore/back" data-do="back">${t.under.back}<//></div>`;
  const plan = planned.value;
  return html`<div class="under-thumb"><${Link} class="button main" to=${plan ? `/shore/outing/${plan.id}` : '/shore/go'} data-do="go">${plan ? t.under.startPlanned : t.under.goWithout}<//></div>`;
}
