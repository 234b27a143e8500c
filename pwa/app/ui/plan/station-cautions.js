// What to distrust in a station, where the choice is made.

import { html } from '../parts/html.js';
import { shore } from './shore-state.js';
import { told } from './station-state.js';
import { text } from '../../text/en.js';

/** Cautions that stand on Plan although they are not serious: how far, how old, how short. */
const ON_PLAN = ['far_station', 'may_be_river', 'old_record', 'short_record', 'unknown_record', 'old_datum_epoch', 'short_datum_epoch'];

/** Those of the chosen shore's station. */
export function StationCautions() {
  const at = shore.value;
  const station = told.value;
  if (!at || station?.id !== at.station || !station.answer) return null;
  const list = station.answer.cautions.filter((/** @type {Caution} */ c) => c.serious || ON_PLAN.includes(c.code));
  if (list.length === 0) return null;
  return html`<section class="station-cautions" aria-labelledby="station-cautions">
    <h2 id="station-cautions">${text.station.distrust(station.answer.name)}</h2>
    <${CautionList} cautions=${list} />
  </section>`;
}

/** @typedef {{code: string, serious: boolean, text: string}} Caution */

/** @param {{cautions: Caution[]}} props the serious first, as the core lists them */
export function CautionList({ cautions }) {
  return html`<ul class="heed">${cautions.map((c) => html`<li data-caution=${c.code}>${c.serious && html`<strong>${text.station.serious} </strong>`}${c.text}</li>`)}</ul>`;
}
