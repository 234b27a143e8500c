// The sea is seen higher than shown: at the marker rock in one touch, else by how much.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { announce } from '../parts/announce.js';
import { level, metres } from '../parts/when.js';
import { waterAt } from '../../data/water.js';
import { clockAt } from './clocks.js';
import { lateBy } from './now-limits.js';
import { heights, limits, spot, water } from './now-state.js';
import { sawHigher, underWay } from './outing-state.js';
import { Panel } from './panel.js';
import { trendOf } from './staff-drawing.js';
import { text } from '../../text/en.js';

/** How much higher the words say, metres. A guess at sight: rather too much than too little. */
const STEPS = /** @type {const} */ ([['hand', 0.2], ['knee', 0.5], ['more', 1]]);

export function HigherPage() {
  const t = text.staff.higher;
  const outing = underWay.value;
  const at = spot.value;
  const said = useSignal('');
  const now = water.value;
  if (!outing) return html`<${Panel} name="higher" title=${t.title}><p>${text.staff.start.gone}</p><//>`;

  /** @param {number | undefined} seenM the level seen; undefined: raised above the prediction @param {number} raisedM */
  const keep = async (seenM, raisedM) => {
    const atMs = Date.now();
    // Without the water of now only the difference is known: it counts from zero.
    const predictedM = rounded((heights.peek() && waterAt(/** @type {any} */ (heights.peek()), atMs)?.heightM) ?? 0);
    const before = limits.peek();
    const seen = rounded(seenM ?? predictedM + raisedM);
    await sawHigher(outing.id, { seenM: seen, predictedM, lateMin: seenM === undefined ? null : lateBy(heights.peek(), seenM, atMs) });
    const after = limits.peek();
    said.value = seen <= predictedM ? t.same : after && (after.startBackMs !== before?.startBackMs || after.offByMs !== before?.offByMs) ? (after.startBackMs <= atMs ? t.goNow : t.now(clockAt(after.startBackMs), clockAt(after.offByMs))) : t.unchanged;
    announce(said.value);
  };

  return html`<${Panel} name="higher" title=${t.title}>
    ${said.value ? html`<p class="outcome" data-said>${said.value}</p><div class="under-thumb"><${Link} class="button main" to="/shore">${t.toStaff}<//></div>` : html`
    <p>${now ? t.shown(metres(now.heightM), text.staff.water.trends[trendOf(now.rateMPerHour)]) : t.noWater} ${t.only}</p>
    ${now && at?.marker && html`<button type="button" class="main tall" data-do="marker" onClick=${() => keep(at.marker?.heightM, 0)}>${t.marker(at.marker.what, level(at.marker.heightM))}</button>`}
    ${now ? html`<fieldset class="steps-higher"><legend>${at?.marker ? t.orElse : t.how}</legend>
      ${STEPS.map(([name, m]) => html`<button type="button" class="tall" data-do=${'higher-' + name} onClick=${() => keep(undefined, m)}>${t.step(t.steps[name], level(m))}</button>`)}
    </fieldset>` : html`<button type="button" class="main tall" data-do="higher-more" onClick=${() => keep(undefined, 1)}>${t.startBack}</button>`}`}
  <//>`;
}

/** @param {number} m to the millimetre, as records keep it */
const rounded = (m) => Math.round(m * 1000) / 1000;
