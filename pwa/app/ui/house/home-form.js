// Where the tanks stand: its climate and its coast, which what travels and what spreads go by.

import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { kinds } from '../parts/kinds.js';
import { householdFields, setHousehold } from '../../data/household.js';
import { home as t } from '../../text/en-care.js';
import { text } from '../../text/en.js';

/** @param {{edit: boolean}} props */
export function HomeForm({ edit }) {
  const home = householdFields.value.home ?? {};
  const regions = Object.entries(kinds.value?.regions ?? {});
  const keep = async (/** @type {Record<string, string | undefined>} */ change) => {
    const zone = home.zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone ?? 'UTC';
    // What is not said is left out.
    const next = Object.fromEntries(Object.entries({ ...home, zone, ...change }).filter(([, value]) => value));
    announce((await setHousehold({ home: next })) ? t.kept : text.trip.unkept);
  };
  const climate = String(home.climate ?? '');
  const region = String(home.region ?? '');
  return html`<section class="home-of" aria-labelledby="home-of"><h2 id="home-of">${t.title}</h2>
    ${edit ? html`
    <div class="field"><label for="climate">${t.climate}</label><p id="climate-hint" class="soft">${t.climateHint}</p>
      <select id="climate" aria-describedby="climate-hint" value=${climate} onChange=${(/** @type {any} */ e) => keep({ climate: e.target.value })}>
        ${Object.entries(t.climates).map(([is, words]) => html`<option value=${is}>${words}</option>`)}</select></div>
    <div class="field"><label for="region">${t.region}</label><p id="region-hint" class="soft">${t.regionHint}</p>
      <select id="region" aria-describedby="region-hint" value=${region} onChange=${(/** @type {any} */ e) => keep({ region: e.target.value })}>
        <option value="">${t.unsaid}</option>
        ${region && !kinds.value?.regions[region] && html`<option value=${region}>${region}</option>`}
        ${regions.map(([code, words]) => html`<option value=${code}>${words}</option>`)}</select></div>`
    : html`<p>${t.climate}: ${/** @type {Record<string, string>} */ (t.climates)[climate]}</p><p>${t.region}: ${region ? kinds.value?.regions[region] ?? region : t.unsaid}</p>`}
  </section>`;
}
