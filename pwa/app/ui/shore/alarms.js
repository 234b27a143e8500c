// The two alarms that an outing asks for before it starts, on clocks that do not sleep.

import { html } from '../parts/html.js';
import { clockAt } from './clocks.js';
import { NEAR_MINUTES } from './now-limits.js';
import { text } from '../../text/en.js';

/** @param {{startBackMs: number | undefined, set: import('@preact/signals').Signal<boolean>, wrong: string}} props */
export function Alarms({ startBackMs, set, wrong }) {
  const t = text.staff.start;
  return html`<fieldset class="alarms" aria-describedby="alarms-wrong">
    <legend>${t.alarms}</legend>
    ${startBackMs === undefined ? html`<p class="heed">${text.staff.phone.sleeps} ${t.noTimes}</p>` : html`<p>${t.sleeps}</p>
      <ol class="times"><li data-alarm="gather"><strong>${t.first(clockAt(startBackMs - NEAR_MINUTES * 60_000))}</strong></li>
        <li data-alarm="back"><strong>${t.second(clockAt(startBackMs))}</strong></li></ol>`}
    <label class="check"><input type="checkbox" id="alarms" name="alarms" checked=${set.value} aria-invalid=${Boolean(wrong)} aria-describedby="alarms-wrong"
      onChange=${(/** @type {any} */ e) => (set.value = e.target.checked)} /> ${t.set}</label>
    <p id="alarms-wrong" class="wrong">${wrong}</p>
  </fieldset>`;
}
