// Finding a station by its name or from where the phone is.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { call } from '../../core.js';
import { text } from '../../text/en.js';

const LIMIT = 20;
const PAUSE_MS = 150;

/** @param {{chosen: import('@preact/signals').Signal<any>, wrong?: string}} props */
export function StationSearch({ chosen, wrong }) {
  const t = text.form;
  const find = useSignal('');
  const found = useSignal(/** @type {any[] | undefined} */ (undefined));
  const says = useSignal('');

  /** @param {object} request @param {() => boolean} wanted */
  const ask = async (request, wanted) => {
    says.value = t.searching;
    try {
      const answer = await call('stations', { ...request, limit: LIMIT });
      if (!wanted()) return;
      found.value = answer.stations;
      says.value = t.found(answer.stations.length);
    } catch (error) {
      if (wanted()) says.value = /** @type {Error} */ (error).message;
    }
    announce(says.value);
  };

  // A pause in typing asks; what is typed meanwhile makes the older answer unwanted.
  useEffect(() => {
    const words = find.value.trim();
    if (words === '') return;
    let wanted = true;
    const timer = setTimeout(() => ask({ find: words }, () => wanted), PAUSE_MS);
    return () => {
      wanted = false;
      clearTimeout(timer);
    };
  }, [find.value]);

  const near = () => navigator.geolocation.getCurrentPosition(
    ({ coords }) => ask({ near: { lat: coords.latitude, lon: coords.longitude } }, () => true),
    () => announce((says.value = t.nearRefused)),
    { timeout: 15_000, maximumAge: 600_000 },
  );

  /** @param {any} station */
  const pick = (station) => {
    chosen.value = station;
    found.value = undefined;
    find.value = '';
    says.value = '';
    document.getElementById('below')?.focus();
  };

  const c = chosen.value;
  return html`<div class="field">
    <label for="station">${t.find}</label>
    <p id="station-hint" class="soft">${t.findHint}</p>
    <input id="station" type="search" autocomplete="off" value=${find.value} aria-invalid=${Boolean(wrong)}
      aria-describedby="station-hint station-wrong" onInput=${(/** @type {any} */ event) => (find.value = event.target.value)} />
    ${'geolocation' in navigator && html`<button type="button" class="quiet" onClick=${near}>${t.near}</button>`}
    <p id="station-wrong" class="wrong">${wrong}</p>
    <p class="soft">${says.value}</p>
    ${found.value && html`<ul class="stations">${found.value.map((s) => html`<li key=${s.id}><button type="button" data-station=${s.id} onClick=${() => pick(s)}>
      <strong>${s.name}</strong> <span class="soft">${describe(s)}</span></button></li>`)}</ul>`}
    ${c && html`<p class="chosen" data-chosen=${c.id}>${t.station}: <strong>${c.name}</strong> <span class="soft">${describe(c)}</span></p>`}
  </div>`;
}

/** @param {any} s a station as the core lists it */
function describe(s) {
  const t = text.form;
  return [s.place || s.country, s.kind === 'secondary' ? t.secondary : '', s.distanceKm > 0 ? t.away(s.distanceKm.toFixed(0)) : '']
    .filter(Boolean).join(' · ');
}
