// What the numbers of Plan mean and where they come from.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { level, metres } from '../parts/when.js';
import { call, catalogue, state } from '../../core.js';
import { lies } from '../../data/place.js';
import { CatalogueAsk } from './catalogue-ask.js';
import { CautionList } from './station-cautions.js';
import { awayOf } from './station-line.js';
import { shore } from './shore-state.js';
import { told } from './station-state.js';
import { text } from '../../text/en.js';

export function Numbers() {
  const t = text.numbers;
  const about = useSignal(/** @type {any} */ (undefined));
  useEffect(() => {
    let wanted = true;
    call('about', {}).then((answer) => wanted && (about.value = answer), () => {}); // the bar says that the core has failed
    return () => {
      wanted = false;
    };
  }, [state.value === 'ready', catalogue.value]);

  const at = shore.value;
  const station = at && told.value?.id === at.station ? told.value.answer : undefined;
  return html`<div class="numbers">
    <h1>${t.title}</h1>
    <p class="heed">${t.notSafe}</p>
    <${CatalogueAsk} />
    ${at ? html`<${Heights} at=${at} /><${Station} at=${at} station=${station} />` : html`<p>${t.noShore}</p>`}
    <section aria-labelledby="left"><h2 id="left">${t.leavesOut}</h2><ul class="points">${t.left.map((line) => html`<li>${line}</li>`)}</ul></section>
    ${at && html`<section aria-labelledby="back"><h2 id="back">${t.backTitle}</h2>
      <ul class="points">${t.back(at.margin).map((line) => html`<li>${line}</li>`)}</ul>
      <p>${t.start(at.walkOut)}</p></section>`}
    <${Credits} about=${about.value} />
  </div>`;
}

/** @param {{at: import('./shore-state.js').Shore}} props */
function Heights({ at }) {
  const t = text.numbers;
  return html`<section aria-labelledby="heights"><h2 id="heights">${at.name}</h2>
    <p>${t.set(level(at.below), at.wayOff === null ? text.plan.cutUnknown : text.plan.cutAt(level(at.wayOff)), at.release)}</p></section>`;
}

/** @param {{at: import('./shore-state.js').Shore, station: any}} props station is the core's answer, when it is there */
function Station({ at, station: s }) {
  const t = text.numbers;
  /** @param {string} term @param {any} says @param {string} [name] */
  const fact = (term, says, name) => html`<dt>${term}</dt><dd data-number=${name}>${says}</dd>`;
  const datum = s?.datum ?? at.datum;
  const own = at.distanceKm !== null && s ? lies(at, s) : undefined;
  return html`<section aria-labelledby="station-facts"><h2 id="station-facts">${t.station}</h2>
    <dl class="facts">
      ${fact(t.named, `${at.stationName} (${at.station})`, 'station')}
      ${s && fact(t.where, html`${s.place || s.country} · ${own ? awayOf(own.distanceKm, own.bearingDeg) : t.atStation}`, 'where')}
      ${s && fact(t.kind, s.reference ? html`${t.secondary(s.reference.name, s.reference.distanceKm.toFixed(0))} ${differences(s.reference)}` : t.reference, 'kind')}
      ${at.differences && fact(t.own, differences(at.differences), 'own')}
      ${s && fact(s?.source === 'NOAA CO-OPS' ? t.datumEpoch : t.epoch, s.epoch ? t.span(s.epoch[0], s.epoch[1]) : t.noEpoch, 'epoch')}
      ${fact(t.datum, html`${t.datums[datum] ?? `${datum}: ${t.otherDatum}`} ${typeof s?.msl === 'number' && t.msl(metres(s.msl))}
        ${' '}${typeof s?.lowest === 'number' && typeof s?.highest === 'number' && t.range(metres(s.lowest), metres(s.highest))}`, 'datum')}
      ${s && fact(t.form, html`${s.formText}. ${t.formNumber(s.form.toFixed(2))}`, 'form')}
      ${s && fact(t.practice, t.practices[s.practice] ?? s.practice, 'practice')}
      ${s && fact(t.licence, html`${s.licence}. ${s.credit}`, 'licence')}
    </dl>
    ${s && html`<h3>${t.cautions}</h3>${s.cautions.length > 0 ? html`<${CautionList} cautions=${s.cautions} />` : html`<p>${t.noCautions}</p>`}`}
  </section>`;
}

/**
 * "high water 12 min later, height times 0.94; low water …".
 * @param {{minutes: [number, number], heights: [number, number], heightsAre: string}} d
 */
function differences({ minutes, heights, heightsAre }) {
  const t = text.numbers;
  return [t.high, t.low].map((kind, i) => t.difference(kind, t.later(minutes[i]),
    heightsAre === 'ratio' ? t.timesHeight(String(heights[i])) : t.plusHeight(metres(heights[i])))).join('; ') + '.';
}

/** @param {{about: any}} props */
function Credits({ about }) {
  const t = text.numbers;
  return html`<section aria-labelledby="data"><h2 id="data">${t.data}</h2>
    <dl class="facts">${about?.catalogue?.credits.map((/** @type {any} */ c) => html`<dt>${c.source}${c.stations > 0 && ` · ${t.stations(c.stations)}`}</dt><dd data-credit=${c.source}>${c.credit}. ${c.licence}</dd>`)}</dl>
    <h3>${t.versions}</h3>
    <dl class="facts">
      <dt>${t.release}</dt><dd data-number="release">${about?.catalogue?.release ?? t.unknown}</dd>
      <dt>${t.tz}</dt><dd data-number="zones">${about?.zones ?? t.unknown}</dd>
      <dt>${t.core}</dt><dd data-number="core">${about?.core ?? t.unknown}</dd>
    </dl></section>`;
}
