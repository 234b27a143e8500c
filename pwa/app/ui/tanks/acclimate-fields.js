// The two waters of an acclimation, and what it drips into.

import { html } from '../parts/html.js';
import { nameOf } from './picture-state.js';
import { SalinityFields } from './reading-salinity.js';
import { Figure, Pick } from './tank-field.js';
import { lastOf } from './tank-of.js';
import { now } from '../parts/now.js';
import { degreeUnit, volumeUnit } from './tank-units.js';
import { water as all } from '../../text/en-tank-water.js';
import { tanks as text } from '../../text/en-tanks.js';
import { UNSURE, groupName } from '../parts/kinds.js';

const t = all.acclimate;

/**
 * @param {{draft: import('./tank-draft.js').Draft, doubts: import('./tank-field.js').Doubts, left: import('./tank-field.js').Left, tanks: string[], groups: string[]}} props
 */
export function AcclimateFields({ draft, doubts, left, tanks, groups }) {
  const form = { draft, doubts, left };
  const last = tanks.length ? lastOf(`tank/${tanks[0]}`) : {};
  const age = (/** @type {string} */ at) => all.tank.age(Math.floor((now.value - Date.parse(at)) / 60_000));
  const group = (/** @type {string} */ id) => groupName(id) || (id === UNSURE ? t.unsure : id);
  return html`
    ${groups.length > 1 && html`<p class="soft">${t.groups(text.and(groups.map(group)))}</p>`}
    <fieldset data-side="bag"><legend><h2>${t.bag}</h2></legend><p class="soft">${t.bagHint}</p>
      <div class="pair"><${Figure} name="bag.volume" label=${t.volume(volumeUnit())} ...${form} /><${Figure} name="hours" label=${t.hours} ...${form} /></div>
      <${SalinityFields} at="bag." ...${form} />
      <div class="pair"><${Figure} name="bag.temperatureC" label=${t.temperature(degreeUnit())} ...${form} /><${Figure} name="bag.pH" label=${t.pH} ...${form} /></div>
      <div class="pair"><${Figure} name="bag.ammoniaMgNL" label=${all.kinds.ammoniaMgNL} ...${form} /><${Pick} name="bag.ammoniaMgNL.as" label=${all.reading.as} of=${all.kinds.ammoniaMgNL} options=${['N', 'NH3', 'NH4']} words=${all.reading.stated} draft=${draft} /></div>
      <p class="soft">${t.ammoniaHint}</p>
    </fieldset>
    <fieldset data-side="tank"><legend><h2>${tanks.length === 1 ? nameOf(`tank/${tanks[0]}`) : tanks.length ? t.jars(tanks.length) : t.tank}</h2></legend>
      ${last.salinity && html`<p class="soft">${t.asRead(age(last.salinity.at))}</p>`}
      <${Figure} name="tank.volume" label=${tanks.length > 1 ? t.volumeEach(volumeUnit()) : t.volume(volumeUnit())} ...${form} />
      <${SalinityFields} at="tank." ...${form} />
      <div class="pair"><${Figure} name="tank.temperatureC" label=${t.temperature(degreeUnit())} ...${form} /><${Figure} name="tank.pH" label=${t.pH} ...${form} /></div>
      <${Pick} name="pH.scale" label=${all.reading.pHScale} options=${Object.keys(all.reading.pHScales)} words=${all.reading.pHScales} draft=${draft} />
    </fieldset>
    <fieldset><legend><h2>${t.line}</h2></legend>
      <${Figure} name="containerL" label=${t.container(volumeUnit())} hint=${t.containerHint} ...${form} />
      <${Figure} name="drops" label=${t.drops} hint=${t.dropsHint} ...${form} />
    </fieldset>`;
}
