// A station in words: where it is, what its heights count from, how it is reckoned.

import { html } from '../parts/html.js';
import { text } from '../../text/en.js';

/** @param {any} s a station as the core lists it */
const placeOf = (s) => s.place || s.country;

/** @param {any} s */
export function whereOf(s) {
  const away = typeof s.distanceKm === 'number' && typeof s.bearingDeg === 'number' ? awayOf(s.distanceKm, s.bearingDeg) : '';
  return [placeOf(s), away].filter(Boolean).join(' · ');
}

/**
 * "12 km to the north-east".
 * @param {number} km
 * @param {number} bearingDeg
 */
export function awayOf(km, bearingDeg) {
  const { away, points } = text.chooser;
  return away(km < 10 ? km.toFixed(1) : km.toFixed(0), points[Math.round(bearingDeg / 45) % 8]);
}

/** @param {{station: any}} props */
export function StationLine({ station: s }) {
  const t = text.chooser;
  return html`<strong>${s.name}</strong>
    <span class="soft">${whereOf(s)}</span>
    <span class="soft">${t.datum(s.datum)} · ${t.kinds[s.kind] ?? ''}${s.datum === 'MSL' ? html` · <strong>${t.noHeight}</strong>` : ''}</span>`;
}
