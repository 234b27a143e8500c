// The sea is seen higher than shown: at the marker rock in one touch, else by how much.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { level, metres } from '../parts/when.js';
import { spot, water } from './now-state.js';
import { Outcome } from './outcome.js';
import { underWay } from './outing-state.js';
import { Panel } from './panel.js';
import { keepHigher } from './saw-higher.js';
import { trendOf } from './staff-drawing.js';
import { text } from '../../text/en.js';

/** How much higher the words say, metres. A guess at sight: rather too much than too little. */
const STEPS = /** @type {const} */ ([['hand', 0.2], ['knee', 0.5], ['more', 1]]);

export function HigherPage() {
  const t = text.staff.higher;
  const outing = underWay.value;
  const marker = spot.value?.marker;
  const said = useSignal('');
  const now = water.value;
  if (!outing) return html`<${Panel} name="higher" title=${t.title}><p>${text.staff.start.gone}</p><//>`;

  /** @param {Parameters<typeof keepHigher>[1]} seen */
  const keep = async (seen) => (said.value = await keepHigher(outing.id, seen));

  return html`<${Panel} name="higher" title=${t.title}>
    ${said.value ? html`<${Outcome} says=${said.value} /><div class="under-thumb"><${Link} class="button main" to="/shore">${t.toStaff}<//></div>` : html`
    <p>${now ? t.shown(metres(now.heightM), text.staff.water.trends[trendOf(now.rateMPerHour)]) : t.noWater} ${t.only}</p>
    ${now && marker && html`<button type="button" class="main tall" data-do="marker" onClick=${() => keep({ levelM: marker.heightM })}>${t.marker(marker.what, level(marker.heightM))}</button>`}
    ${now ? html`<fieldset class="steps-higher"><legend>${marker ? t.orElse : t.how}</legend>
      ${STEPS.map(([name, m]) => html`<button type="button" class="tall" data-do=${'higher-' + name} onClick=${() => keep({ raisedM: m })}>${t.step(t.steps[name], level(m))}</button>`)}
    </fieldset>` : html`<button type="button" class="main tall" data-do="higher-more" onClick=${() => keep({ raisedM: 1 })}>${t.startBack}</button>`}`}
  <//>`;
}
