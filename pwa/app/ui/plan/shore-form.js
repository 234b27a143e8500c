// Choosing a shore: a station, the height under which it is bare, the height at which
// the way back is cut.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Field } from '../parts/field.js';
import { StationSearch } from './station-search.js';
import { fresh } from '../../data/shore-record.js';
import { uuidv7 } from '../../data/ids.js';
import { save as saveShore, select } from './shore-state.js';
import { text } from '../../text/en.js';

/**
 * A number as people write it, with a point or a comma; undefined if it is none.
 * @param {string} written
 */
function number(written) {
  const tidy = written.trim().replace(',', '.').replace('−', '-');
  return /^-?\d{1,4}(\.\d{1,4})?$/.test(tidy) ? Number(tidy) : undefined;
}

/** @param {{from?: import('./shore-state.js').Shore, done: () => void}} props */
export function ShoreForm({ from, done }) {
  const t = text.form;
  const station = useSignal(/** @type {any} */ (from && { ...from, id: from.station }));
  const below = useSignal(from ? String(from.below) : '');
  const wayOff = useSignal(from && from.wayOff !== null ? String(from.wayOff) : '');
  const cutOff = useSignal(from?.cutOff ?? true);
  const walkOut = useSignal(String(from?.walkOut ?? 15));
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));

  /** @param {Event} event */
  const save = (event) => {
    event.preventDefault();
    const belowM = number(below.value);
    const wayOffM = wayOff.value.trim() === '' ? null : number(wayOff.value);
    const walkOutMin = number(walkOut.value);
    wrong.value = {
      ...(station.value ? {} : { station: t.needStation }),
      ...(belowM === undefined ? { below: t.needMetres } : {}),
      ...(wayOffM === undefined ? { wayOff: t.needMetres } : {}),
      ...(Number.isInteger(walkOutMin) ? {} : { walkOut: t.needMinutes }),
    };
    const first = Object.keys(wrong.value)[0];
    if (first) return void document.getElementById(first)?.focus();
    const { id, name, place, zone, lat, lon, source, datum } = station.value;
    const shore = {
      ...fresh, id: from?.id ?? uuidv7(), name, station: id, stationName: name, place, source, datum, release: '', zone, lat, lon, cutOff: cutOff.value,
      below: /** @type {number} */ (belowM), wayOff: /** @type {number | null} */ (wayOffM), walkOut: /** @type {number} */ (walkOutMin),
    };
    saveShore(shore, from);
    select(shore.id);
    done();
  };

  return html`<form onSubmit=${save} novalidate>
    <${StationSearch} chosen=${station} wrong=${wrong.value.station} />
    <${Field} id="below" label=${t.below} hint=${t.belowHint} value=${below} mode="decimal" wrong=${wrong.value.below} />
    <${Field} id="wayOff" label=${t.wayOff} hint=${t.wayOffHint} value=${wayOff} mode="decimal" wrong=${wrong.value.wayOff} />
    <label class="check"><input type="checkbox" name="cutOff" checked=${cutOff.value}
      onChange=${(/** @type {any} */ e) => (cutOff.value = e.target.checked)} /> ${t.cutOff}</label>
    <${Field} id="walkOut" label=${t.walkOut} value=${walkOut} mode="numeric" wrong=${wrong.value.walkOut} />
    <div class="actions">
      ${from && html`<button type="button" class="quiet" onClick=${done}>${t.cancel}</button>`}
      <button type="submit" class="main">${t.save}</button>
    </div>
  </form>`;
}
