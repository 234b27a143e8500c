// From the list of stations to one that a shore can be set on; where it cannot, why, and
// the nearest ones where it can.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { StationChooser, StationList } from './station-chooser.js';
import { aboutStation } from './station-state.js';
import { call } from '../../core.js';
import { text } from '../../text/en.js';

/** @typedef {import('../../data/place.js').Point} Point */

/** Cautions of the core that say that nothing can be reckoned there. */
const REFUSALS = ['no_distinct_tide', 'no_mean_sea_level'];
const SOUGHT = 100; // in the Baltic, 70 gauges without a chart datum stand side by side
const OFFERED = 5;

/** @param {{pick: (station: any, from?: Point) => void, wrong?: string}} props pick hears the core's answer to 'station' */
export function StationPick({ pick, wrong }) {
  const t = text.chooser;
  const refused = useSignal(/** @type {{why: string, near?: any[], from?: Point} | undefined} */ (undefined));
  const failed = useSignal('');

  /** @param {any} match @param {Point} [from] */
  const look = async (match, from) => {
    failed.value = '';
    try {
      const station = await aboutStation(match.id, match.distanceKm ?? null);
      const why = station.datum === 'MSL' ? t.msl(station.name)
        : station.cautions.find((/** @type {any} */ c) => REFUSALS.includes(c.code))?.text;
      if (!why) return pick(station, from);
      refused.value = { why, from };
      announce(why);
      requestAnimationFrame(() => document.getElementById('refused')?.focus());
      const { stations } = await call('stations', { near: { lat: station.lat, lon: station.lon }, limit: SOUGHT });
      const near = stations.filter((/** @type {any} */ s) => s.datum !== 'MSL' && s.id !== station.id).slice(0, OFFERED);
      refused.value = { why, from, near };
    } catch (error) {
      failed.value = /** @type {Error} */ (error).message;
    }
  };

  const no = refused.value;
  return html`<${StationChooser} pick=${look} wrong=${failed.value || wrong} />
    ${no && html`<section class="refused" data-refused aria-labelledby="refused">
      <h3 id="refused" tabindex="-1">${t.refused}</h3>
      <p>${no.why}</p>
      ${no.near && (no.near.length === 0 ? html`<p>${t.insteadNone}</p>` : html`<p>${t.instead}</p>
        <${StationList} label=${t.instead} stations=${no.near} pick=${(/** @type {any} */ s) => look({ id: s.id }, no.from)} />`)}
    </section>`}`;
}
