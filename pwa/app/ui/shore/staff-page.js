// The first page of Shore: the staff, and what there is to do.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { localDay, metres } from '../parts/when.js';
import { beatMs } from './beat.js';
import { nearest } from './clocks.js';
import { mayPlan, useBook } from './may-plan.js';
import { minutesTo } from './now-limits.js';
import { inDoubt, spot, today, turns, water } from './now-state.js';
import { outings, underWay } from './outing-state.js';
import { PhonePanel } from './phone-panel.js';
import { StaffDrawing, trendOf } from './staff-drawing.js';
import { Standing } from './standing.js';
import { Thunder } from './thunder.js';
import { UnderWay } from './under-way.js';
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
        <div>${outing && html`<${UnderWay} outing=${outing} />`}<${Ways} /><${PhonePanel} /></div>
      </div>`}
    ${outing && (!at || inDoubt.value) && html`<${Thunder} /><${UnderWay} outing=${outing} />`}
    ${known && (at || outing) && html`<${Main} />`}
  </div>`;
}

/** @param {{shore: import('../../data/shore-record.js').Shore}} props */
function Water({ shore }) {
  const t = text.staff.water;
  const now = water.value;
  const { low, high } = turns.value;
  const falls = !high || (low && low.ms < high.ms);
  const lowSays = low ? t.lowIn(minutesTo(low.ms, beatMs.value), nearest(low.ms), metres(low.heightM)) : '';
  const highSays = high ? t.highAt(nearest(high.ms), metres(high.heightM)) : '';
  return html`<section class="water" aria-labelledby="water">
    <h2 class="unseen" id="water">${t.title}</h2>
    ${now && html`
      <p class="water-now" data-water=${now.heightM} data-rate=${now.rateMPerHour} data-at=${beatMs.value}><b>${t.predicted(metres(now.heightM), t.trends[trendOf(now.rateMPerHour)])}</b>, ${t.look}</p>
      <${StaffDrawing} shore=${shore} water=${now} low=${falls ? low : undefined} />
      ${low && html`<p class="turns" data-low=${low.ms}>${falls ? t.turns(lowSays, highSays) : t.turns(highSays, lowSays)}</p>`}
      ${shore.wayOff === null && html`<p class="heed">${t.cutUnknown}</p>`}`}
    <${Standing} />
    ${now && html`<p class="soft">${shore.datum ? t.datum(shore.datum) : t.noDatum}</p>`}
  </section>`;
}

function Ways() {
  const t = text.staff.ways;
  return html`<nav class="shore-ways" aria-label=${t.label}>
    <${Link} class="button" to="/shore/help">${t.help}<//>
    <${Link} class="button" to="/shore/log">${t.log}<//>
    <${Link} class="button" to="/shore/today">${t.today}<//>
    ${underWay.value ? null : html`<${Link} class="button" to="/shore/outing/new">${t.plan}<//>`}
    <${Link} class="button" to="/shore/outings">${t.outings}<//>
  </nav>`;
}

/** The one thing to do next, under the thumb. */
function Main() {
  const t = text.staff;
  if (!mayPlan()) return null;
  if (underWay.value) return html`<div class="under-thumb"><${Link} class="button main" to="/shore/back" data-do="back">${t.under.back}<//></div>`;
  const planned = outings.value.find(({ startedMs, planned: p, shore }) => startedMs === null && p && shore === spot.value?.id && localDay(Date.parse(p.from), spot.value.zone) === today.value);
  return html`<div class="under-thumb"><${Link} class="button main" to=${planned ? `/shore/outing/${planned.id}` : '/shore/go'} data-do="go">${planned ? t.under.startPlanned : t.under.goWithout}<//></div>`;
}
