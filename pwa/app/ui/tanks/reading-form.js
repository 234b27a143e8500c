// The fields of a reading, in the order in which one reads: salinity and temperature, pH, kits.

import { html } from '../parts/html.js';
import { AmmoniaMeaning } from './reading-ammonia.js';
import { STATED } from './reading-kinds.js';
import { SalinityFields } from './reading-salinity.js';
import { Figure, Pick } from './tank-field.js';
import { lastOf } from './tank-of.js';
import { estimate } from './tank-salinities.js';
import { degreeUnit, figure } from './tank-units.js';
import { water as t } from '../../text/en-tank-water.js';

/** @typedef {{draft: import('./tank-draft.js').Draft, doubts: import('./tank-field.js').Doubts, left: import('./tank-field.js').Left}} Form */

/** @param {Form & {fields: Record<string, any>, of: string}} props fields: what is typed, as the book has it */
export function ReadingForm({ draft, doubts, left, fields, of }) {
  const form = { draft, doubts, left };
  const last = lastOf(of).salinity;
  const before = last && estimate(last.value);
  return html`
    <fieldset><legend><h2>${t.reading.salt}</h2></legend>
      <${SalinityFields} ...${form} />
      <${Figure} name="temperatureC" label=${t.reading.temperature(degreeUnit())} ...${form} />
    </fieldset>
    <fieldset><legend><h2>${t.reading.tests}</h2></legend>
      <div class="pair"><${Figure} name="pH" label=${t.kinds.pH} ...${form} />
        <${Pick} name="pH.scale" label=${t.reading.pHScale} options=${Object.keys(t.reading.pHScales)} words=${t.reading.pHScales} draft=${draft} /></div>
      ${/** @type {const} */ (['ammoniaMgNL', 'nitriteMgNL', 'nitrateMgNL', 'phosphateMgL']).map((kind) => html`<${Kit} key=${kind} kind=${kind} fields=${fields} ...${form} />
        ${kind === 'ammoniaMgNL' && html`<${AmmoniaMeaning} fields=${fields} salinity=${before?.salinity} />`}`)}
      <div class="pair"><${Figure} name="alkalinity" label=${t.kinds.alkalinity} ...${form} />
        <${Pick} name="alkalinity.as" label=${t.reading.unit} of=${t.kinds.alkalinity} options=${['dKH', 'meq/L']} words=${t.reading.stated} draft=${draft} /></div>
      <${Figure} name="oxygenMgL" label=${`${t.kinds.oxygenMgL} (${t.units.oxygenMgL})`} ...${form} />
    </fieldset>
    <${Figure} name="note" label=${t.reading.note} text=${true} lines=${2} ...${form} />`;
}

/**
 * A result of a kit, and what the kit states it as.
 * @param {Form & {kind: 'ammoniaMgNL' | 'nitriteMgNL' | 'nitrateMgNL' | 'phosphateMgL', fields: Record<string, any>}} props
 */
function Kit({ kind, fields, ...form }) {
  const stated = STATED[kind] ?? {};
  const as = form.draft.fields[`${kind}.as`].value;
  const kept = fields[kind];
  return html`<div class="pair"><${Figure} name=${kind} label=${t.kinds[kind]} ...${form} />
      <${Pick} name=${`${kind}.as`} label=${t.reading.as} of=${t.kinds[kind]} options=${Object.keys(stated)} words=${t.reading.stated} draft=${form.draft} /></div>
    ${kept > 0 && stated[as] !== 1 && html`<p class="meaning">${t.reading.keptAs(`${figure(kept, 2)} ${t.units[kind]}`)}</p>`}`;
}
