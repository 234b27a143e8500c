// The slate: one sheet of paper for a clipboard and a pencil.

import { signal, useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { call, catalogue, state } from '../../core.js';
import { now } from '../parts/now.js';
import { clock, dayName, localDay, nearestClock } from '../parts/when.js';
import { waterHeight } from '../parts/units.js';
import { household } from '../../data/household.js';
import { waterRequest } from '../plan/shore-state.js';
import { outingPanel } from './go.js';
import { headTimes } from './outing-times.js';
import { written } from './spoken.js';
import { SlateLimits } from './verdict.js';
import { text } from '../../text/en.js';

/** @typedef {import('./outing.js').Outing} Outing */
/** @typedef {import('../../data/shore-record.js').Shore} Shore */

/** Lines for finds that a sheet of A4 has room for beside nobody, and at least. */
const MOST_LINES = 22;
const LEAST_LINES = 6;
/** Letters of the way of escape that the sheet has room for; the rest stands on the shore's page. */
const MOST_ESCAPE = 240;
export const SlatePage = () => outingPanel('slate', text.slate.title, (outing, shore) => html`
  <div class="no-print"><p>${text.slate.why}</p>
    <div class="go-tools"><button type="button" class="main" data-do="print" onClick=${() => print()}>${text.slate.print}</button>
      <${Link} class="button" to=${`/shore/catch-up/${outing.id}`} data-do="catch-up">${text.slate.catchUp}<//></div>
  </div>
  <${Slate} outing=${outing} shore=${shore} />`);

/** @param {{outing: Outing, shore: Shore}} props */
function Slate({ outing, shore }) {
  const t = text.slate;
  const { planned, ashore, party } = outing;
  const low = useLow(shore, planned).value;
  const time = (/** @type {string | number | null | undefined} */ at) => (at ? clock(new Date(at).toISOString(), shore.zone) : '__ : __');
  const names = new Map(party.map(({ id, name }) => [id, name]));
  const { numbers } = household.value;
  const limits = useSignal(0);
  const heads = headTimes(planned);
  const lines = Math.max(LEAST_LINES, MOST_LINES - Math.ceil(party.length / 2) - Math.ceil(heads.length / 7) - numbers.length - limits.value);
  const box = html`<i class="box" />`;
  return html`<article class="slate" aria-label=${t.title}>
    <header>
      <h2>${shore.name}${planned && ` · ${dayName(localDay(Date.parse(planned.from), shore.zone), '')}`}</h2>
      <p>${t.low} ${low ? `${waterHeight(low.height)}, ${nearestClock(low.time, shore.zone)}` : '__ : __'} · ${planned ? `${time(planned.from)} – ${time(planned.to)}` : ''} · ${text.plan.zone(shore.zone)}</p>
      <dl class="slate-times">
        <div><dt>${t.startBack}</dt><dd>${time(planned?.startBack)}</dd></div>
        <div><dt>${t.offBy}</dt><dd>${time(planned?.offBy)}</dd></div>
        <div><dt>${t.dueBack}</dt><dd>${time(ashore?.dueBack)}</dd></div>
      </dl>
      <p>${t.ashore}: <strong>${ashore?.who ?? '____________'}</strong> ${outing.ashoreCall}</p>
      <p>${t.numbers}: ${numbers.length > 0 ? html`<strong>${numbers.map(({ what, number }) => `${what} ${number}`).join(' · ')}</strong>` : t.noNumbers}</p>
      <p>${t.place}: ${written(shore.lat, 'lat')}, ${written(shore.lon, 'lon')}${shore.distanceKm === null && ` (${t.station})`} · ${t.escape}: ${shore.escape.slice(0, MOST_ESCAPE) || t.none}</p>
    </header>
    <section><h3>${t.party}</h3>
      <ul class="slate-party">${party.map((one) => html`<li>${one.as === 'child' ? html`<strong>${one.number ?? '__'}</strong> ${one.name}, ${t.child}${one.with && `, ${t.with} ${names.get(one.with) ?? ''}`}` : `${one.name}, ${text.trip.doing[one.does]}`}</li>`)}</ul>
    </section>
    <section><h3>${t.heads} (${party.length})</h3>
      <ul class="slate-heads">${heads.map((ms) => html`<li>${time(ms)}${planned?.startBack && ms === Date.parse(planned.startBack) && '*'} ${box}</li>`)}</ul>
    </section>
    <section><h3>${t.finds}</h3>
      <${SlateLimits} outing=${outing} shore=${shore} at=${planned?.from ?? new Date(now.value).toISOString()} takes=${(/** @type {number} */ n) => (limits.value = n)} /><p>${t.limits}</p>
      <table><thead><tr>${Object.values(t.columns).map((words) => html`<th scope="col">${words}</th>`)}</tr></thead>
        <tbody>${Array.from({ length: lines }, () => html`<tr><td /><td /><td /><td /><td>${box}</td><td>${box}</td></tr>`)}</tbody></table>
    </section>
    <footer>${t.foot}</footer>
  </article>`;
}

/**
 * The lowest low water around the planned time, if the core is there to say.
 * @param {Shore} shore
 * @param {Outing['planned']} planned
 */
function useLow(shore, planned) {
  const low = useMemo(() => signal(/** @type {{time: string, height: number} | undefined} */ (undefined)), []);
  useEffect(() => {
    let wanted = true;
    if (planned) {
      const at = (/** @type {string} */ instant, /** @type {number} */ hours) => new Date(Date.parse(instant) + hours * 3_600_000).toISOString();
      call('tides', { ...waterRequest(shore), from: at(planned.from, -3), to: at(planned.offBy ?? planned.to, 3) }).then(({ waters }) => {
        const lows = waters.filter((/** @type {any} */ w) => w.kind === 'low').sort((/** @type {any} */ a, /** @type {any} */ b) => a.height - b.height);
        if (wanted) low.value = lows[0];
      }, () => {}); // the slate then leaves it to be written in
    }
    return () => void (wanted = false);
  }, [shore.id, planned?.from, planned?.offBy, state.value === 'ready', catalogue.value]);
  return low;
}
