// The shore that Plan is for, and the water now.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { level, metres } from '../parts/when.js';
import { now } from '../parts/now.js';
import { heights } from './plan-state.js';
import { CatalogueAsk } from './catalogue-ask.js';
import { shore } from './shore-state.js';
import { Unkept } from './unkept.js';
import { waterAt } from '../../data/water.js';
import { text } from '../../text/en.js';

export function ShoreHead() {
  const at = shore.value;
  if (!at) return null;
  const t = text.head;
  const cut = at.wayOff === null ? text.plan.cutUnknown : text.plan.cutAt(level(at.wayOff));
  return html`<header class="shore-head">
    <h2>${at.name}</h2>
    <${Link} class="button quiet" data-do="change" aria-label=${t.changeLabel(at.name)} to="/plan/shores">${t.change}<//>
    <p>${text.plan.bareBelow(level(at.below))} · ${cut} · <${Link} to="/plan/numbers">${t.numbers}<//></p>
    <${WaterNow} />
    <${Unkept} />
    <${CatalogueAsk} />
  </header>`;
}

/** A rate under this, in metres an hour, reads as "about to turn". */
const SLACK = 0.03;

function WaterNow() {
  const water = heights.value && waterAt(heights.value, now.value);
  if (!water) return null;
  const { trends } = text.plan;
  const trend = Math.abs(water.rateMPerHour) < SLACK ? trends.turning : water.rateMPerHour > 0 ? trends.rising : trends.falling;
  return html`<p data-now>${text.plan.now(metres(water.heightM), trend)}</p>`;
}
