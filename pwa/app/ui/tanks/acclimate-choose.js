// Which acclimations are under way, and whom to let in.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { dayAndClock } from '../parts/when.js';
import { go } from '../route.js';
import { underWay } from './acclimate-runs.js';
import { may, nameOf, namesOfAll, specimens, zone } from './picture-state.js';
import { tankNow } from './tank-of.js';
import { tanks as text } from '../../text/en-tanks.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.acclimate;
const SHOWN = 40;

export function AcclimateChoose() {
  const chosen = useSignal(/** @type {string[]} */ ([]));
  const newest = [...specimens.value].sort((a, b) => (a.id < b.id ? 1 : -1)).slice(0, SHOWN);
  const toggle = (/** @type {string} */ id) => (chosen.value = chosen.value.includes(id) ? chosen.value.filter((one) => one !== id) : [...chosen.value, id]);
  return html`<div class="acclimate">
    ${underWay.value.length > 0 && html`<section aria-labelledby="running"><h2 id="running">${t.underWay}</h2><ul class="rows">${underWay.value.map((run) => html`<li key=${run.id}><${Link} to=${`/tanks/acclimate/run/${run.id}`}>
      ${text.few(namesOfAll(run.specimens))} <span class="soft">${dayAndClock(run.at, zone.value)}</span><//></li>`)}</ul></section>`}
    ${!may.value.decide ? null : newest.length === 0 ? html`<p>${t.nobody}</p>` : html`<fieldset><legend>${t.whom}</legend><div class="tank-options">${newest.map(({ id }) => html`<label class="option" key=${id}><input type="checkbox" checked=${chosen.value.includes(id)} onChange=${() => toggle(id)} />
        <span>${nameOf(`specimen/${id}`)} <span class="soft">${nameOf(`tank/${tankNow(id)}`)}</span></span></label>`)}</div></fieldset>
      <button type="button" class="main" data-do="choose" aria-disabled=${chosen.value.length === 0} onClick=${() => chosen.value.length > 0 && go(`/tanks/acclimate/${chosen.value.join('+')}`)}>${t.choose}</button>`}
  </div>`;
}
