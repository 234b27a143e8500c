// The emergency card: call first, what to do when the tide has cut you off, what to read
// aloud. Everything on it works without signal, without the core and without a position.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { now } from '../parts/now.js';
import { duration } from '../parts/when.js';
import { household } from '../../data/household.js';
import { deleted, shore as chosenShore, shores } from '../plan/shore-state.js';
import { FirstAid } from './first-aid.js';
import { useFix } from './help-fix.js';
import { underWay } from './outing-state.js';
import { Panel } from './panel.js';
import { spoken, written } from './spoken.js';
import { text } from '../../text/en.js';

/** The member states of the European Union, by ISO 3166-1: article 109 of Directive (EU) 2018/1972 holds there. */
const EU = 'AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI SK'.split(' ');

/** A position older than this reads as an old one, minutes. */
const OLD_MIN = 10;

export function Help() {
  const t = text.help;
  const outing = underWay.value;
  const at = outing ? [...shores.value, ...deleted.value].find(({ id }) => id === outing.shore) : chosenShore.value;
  return html`<${Panel} name="help" title=${t.title} help=${false}>
    <${Numbers} />
    <section class="cut-off" aria-labelledby="cut-off">
      <h2 id="cut-off">${t.cutTitle}</h2>
      <ol>${t.cut.map((line) => html`<li>${line}</li>`)}</ol>
      ${at && html`<p><strong>${at.escape ? t.escape(at.escape) : t.noEscape}</strong></p>`}
    </section>
    <${Say} shore=${at} outing=${outing} />
    <${FirstAid} country=${household.value.country} />
    <p class="heed">${t.alerts}</p>
  <//>`;
}

function Numbers() {
  const t = text.help;
  const { numbers, country } = household.value;
  const known = numbers.length > 0 ? undefined : EU.includes(country) ? t.known.eu : country === 'GB' ? t.known.gb : undefined;
  const call = (/** @type {string} */ what, /** @type {string} */ number) => html`<a class="button call-now" href=${`tel:${number.replace(/[^\d+*#]/g, '')}`} aria-label=${t.call(what, number)}>
    <span>${what}</span> <strong>${number}</strong></a>`;
  return html`<section class="numbers-to-call" aria-labelledby="call-first">
    <h2 id="call-first">${t.callFirst}</h2>
    ${numbers.map(({ id, what, number, note }) => html`<div key=${id}>${call(what, number)}${note && html`<p class="soft">${note}</p>`}</div>`)}
    ${known && html`<div>${call(known.what, known.number)}<p>${known.why}</p></div>`}
    ${numbers.length === 0 && html`<p>${t.noNumbers}</p><${Link} class="button" to="/house/household" data-do="numbers">${t.toHousehold}<//>`}
    <p>${t.first}</p>
  </section>`;
}

/** @param {{shore?: import('../../data/shore-record.js').Shore, outing?: import('./outing.js').Outing}} props */
function Say({ shore, outing }) {
  const t = text.help;
  const children = outing?.party.filter(({ as }) => as === 'child').length ?? 0;
  return html`<section class="say" aria-labelledby="say">
    <h2 id="say">${t.sayTitle}</h2>
    ${shore ? html`<p class="big">${t.shore} <strong>${shore.name}</strong>.</p>` : html`<p class="big">${t.noShore}</p>`}
    ${outing && outing.party.length > 0 && html`<p class="big">${t.people(outing.party.length)}${children > 0 && t.withChildren(children)}</p>`}
    <${Ours} />
    ${shore && html`<h3>${t.shorePlace}</h3><${Place} lat=${shore.lat} lon=${shore.lon} />${shore.distanceKm === null && html`<p class="heed">${t.stationPlace}</p>`}`}
    <ul class="points">${t.sayMore.map((line) => html`<li>${line}</li>`)}</ul>
  </section>`;
}

/** Where the phone is, how exactly, since when. */
function Ours() {
  const t = text.help;
  const { fix, asking, again } = useFix();
  const found = fix.value;
  const minutes = found ? Math.max(0, Math.floor((now.value - found.atMs) / 60_000)) : 0;
  return html`<h3>${t.ours}</h3>
    ${found && html`<${Place} lat=${found.lat} lon=${found.lon} />
      <p data-fix>${t.accuracy(Math.ceil(found.accuracyM))}, ${minutes < 1 ? t.now : t.age(duration(minutes))}.</p>
      ${minutes >= OLD_MIN && html`<p class="heed">${t.old}</p>`}`}
    ${asking.value !== 'found' && html`<p role="status" data-asking=${asking.value}>${asking.value === 'asking' ? t.locating : t[asking.value]}</p>`}
    ${(asking.value === 'slow' || asking.value === 'refused') && html`<button type="button" class="quiet" data-do="fix" onClick=${() => again.value++}>${t.fixAgain}</button>`}`;
}

/** @param {{lat: number, lon: number}} props */
function Place({ lat, lon }) {
  return html`<p class="place-written">${written(lat, 'lat')}<br />${written(lon, 'lon')}</p>
    <p class="place-spoken">${spoken(lat, 'lat')}.<br />${spoken(lon, 'lon')}.</p>`;
}
