// Finding a station: by its name, near where the phone is, by a position or number written
// by hand. What is found is one list, whichever way it came.

import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Field } from '../parts/field.js';
import { CatalogueAsk } from './catalogue-ask.js';
import { StationLine } from './station-line.js';
import { bounds, number } from './shore-fields.js';
import { call, catalogue } from '../../core.js';
import { text } from '../../text/en.js';

const LIMIT = 20;
const PAUSE_MS = 150;
const LOCATE_MS = 20_000;

/** @typedef {import('../../data/place.js').Point} Point */

/**
 * @param {{pick: (station: any, from?: Point) => void, wrong?: string}} props
 *   pick hears which station, and the position that it was looked for from, if any
 */
export function StationChooser({ pick, wrong }) {
  const t = text.chooser;
  const find = useSignal('');
  const found = useSignal(/** @type {{stations: any[], from?: Point} | undefined} */ (undefined));
  const says = useSignal('');

  /** @param {string} sentence */
  const say = (sentence) => announce((says.value = sentence));

  // The newest question counts: an answer to an older one is dropped.
  const newest = useRef(0);
  /** @param {{find?: string, near?: Point}} request */
  const ask = async (request) => {
    const mine = ++newest.current;
    says.value = t.searching;
    try {
      const { stations } = await call('stations', { ...request, limit: LIMIT });
      if (mine !== newest.current) return;
      found.value = { stations, from: request.near };
      say(request.near ? t.foundNear(stations.length) : t.found(stations.length));
    } catch (error) {
      if (mine === newest.current) say(/** @type {Error} */ (error).message);
    }
  };

  // A pause in typing asks.
  useEffect(() => {
    const words = find.value.trim();
    if (words === '') return;
    const timer = setTimeout(() => ask({ find: words }), PAUSE_MS);
    return () => {
      clearTimeout(timer);
      newest.current++;
    };
  }, [find.value, catalogue.value === 'open']);

  // What was found stands under the name, where a thumb and a keyboard leave room; whoever
  // asked from further down is brought to it.
  const near = async (/** @type {Point} */ point) => {
    await ask({ near: point });
    document.getElementById('found')?.focus();
  };
  return html`<div class="chooser">
    <div class="by-name">
      <${CatalogueAsk} />
      <p id="station-wrong" class="wrong">${wrong}</p>
      <div class="field">
        <label for="station">${t.find}</label>
        <p id="station-hint" class="soft">${t.findHint}</p>
        <input id="station" type="search" autocomplete="off" value=${find.value} aria-invalid=${Boolean(wrong)}
          aria-describedby="station-hint station-wrong" onInput=${(/** @type {any} */ event) => (find.value = event.target.value)} />
      </div>
    </div>
    <div class="results">
      <p id="found" class="soft" tabindex="-1" data-says>${says.value}</p>
      ${found.value && found.value.stations.length > 0 && html`<${StationList} label=${t.list} stations=${found.value.stations}
        pick=${(/** @type {any} */ s) => pick(s, found.value?.from)} />`}
    </div>
    <div class="ways">
      <${NearMe} at=${near} />
      <${ByHand} at=${near} pick=${pick} />
    </div>
  </div>`;
}

/** @param {{label: string, stations: any[], pick: (station: any) => void}} props */
export function StationList({ label, stations, pick }) {
  return html`<ul class="stations" aria-label=${label}>
    ${stations.map((s) => html`<li key=${s.id}><button type="button" data-station=${s.id} onClick=${() => pick(s)}><${StationLine} station=${s} /></button></li>`)}
  </ul>`;
}

/**
 * The position of the phone: the reason stands before the question, the answer under it.
 * @param {{at: (point: Point) => void}} props
 */
function NearMe({ at }) {
  const t = text.chooser;
  const says = useSignal('');
  /** @param {string} sentence */
  const say = (sentence) => announce((says.value = sentence));
  const locate = () => {
    if (!('geolocation' in navigator)) return say(t.nearNone);
    say(t.locating);
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => {
        says.value = '';
        at({ lat: coords.latitude, lon: coords.longitude });
      },
      (error) => say(error.code === error.PERMISSION_DENIED ? t.nearRefused : t.nearSlow),
      { timeout: LOCATE_MS, maximumAge: 600_000 },
    );
  };
  return html`<div class="field">
    <h3>${t.near}</h3>
    <p id="near-why" class="soft">${t.nearWhy}</p>
    <button type="button" class="quiet" data-do="near" aria-describedby="near-why" onClick=${locate}>${t.nearDo}</button>
    <p class="soft" data-near-says>${says.value}</p>
  </div>`;
}

/** @param {{at: (point: Point) => void, pick: (station: {id: string}) => void}} props */
function ByHand({ at, pick }) {
  const t = text.chooser;
  const lat = useSignal('');
  const lon = useSignal('');
  const id = useSignal('');
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));

  /** @param {string} written @param {[number, number]} within */
  const degrees = (written, [least, most]) => {
    const value = number(written);
    return value !== undefined && value >= least && value <= most ? value : undefined;
  };
  const list = () => {
    const point = { lat: degrees(lat.value, bounds.lat), lon: degrees(lon.value, bounds.lon) };
    wrong.value = { ...(point.lat === undefined ? { 'hand-lat': t.needLat } : {}), ...(point.lon === undefined ? { 'hand-lon': t.needLon } : {}) };
    const first = Object.keys(wrong.value)[0];
    if (first) return void document.getElementById(first)?.focus();
    at(/** @type {Point} */ (point));
  };
  const take = () => {
    const written = id.value.trim();
    const fits = /^[a-z]+\/\S{1,100}$/.test(written);
    wrong.value = fits ? {} : { 'hand-id': t.needId };
    if (fits) pick({ id: written });
    else document.getElementById('hand-id')?.focus();
  };
  return html`<details class="hand">
    <summary>${t.hand}</summary>
    <div class="pair">
      <${Field} id="hand-lat" label=${t.lat} value=${lat} mode="text" wrong=${wrong.value['hand-lat']} />
      <${Field} id="hand-lon" label=${t.lon} value=${lon} mode="text" wrong=${wrong.value['hand-lon']} />
    </div>
    <p class="soft">${t.positionHint}</p>
    <button type="button" class="quiet" data-do="position" onClick=${list}>${t.positionDo}</button>
    <${Field} id="hand-id" label=${t.id} hint=${t.idHint} value=${id} mode="text" wrong=${wrong.value['hand-id']} />
    <button type="button" class="quiet" data-do="id" onClick=${take}>${t.idDo}</button>
  </details>`;
}
