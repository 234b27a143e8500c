// A printed sheet: what must stand on it besides the figures.

import { html } from '../parts/html.js';
import { duration, knowsZone, level } from '../parts/when.js';
import { told } from './station-state.js';
import { text } from '../../text/en.js';

/** @param {{shore: import('./shore-state.js').Shore, title: string, kind: 'list' | 'year', children: any}} props */
export function Sheet({ shore, title, kind, children }) {
  const t = text.sheet;
  const p = text.plan;
  const cut = shore.wayOff === null ? p.cutUnknown : p.cutAt(level(shore.wayOff));
  const station = told.value?.id === shore.station ? told.value.answer : undefined;
  return html`<section class=${'sheet sheet-' + kind} aria-hidden="true">
    <header><h2>${title}</h2>
      <p>${t.station(shore.stationName, shore.datum)} · ${p.bareBelow(level(shore.below))} · ${cut} · ${knowsZone(shore.zone) ? p.zone(shore.zone) : p.zoneUtc}</p></header>
    ${children}
    <footer><p>${t.astronomical}</p><p>${t.rule(duration(shore.walkOut))} ${text.before.short}</p>
      ${station && html`<p>${t.credit(station.credit, station.release)}</p>`}</footer>
  </section>`;
}
