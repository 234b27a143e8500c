// One outing: who was there, what was found, and where.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { clock } from '../parts/when.js';
import { ready } from '../../data/book.js';
import { FindFrame } from './find-frame.js';
import { howMuch, what } from './find-words.js';
import { findsOf, nameOf, zoneOf } from './finds-state.js';
import { outings } from './outing-state.js';
import { shoreName, spanOf } from './outings-page.js';
import { Plot, layOut } from './plot.js';
import { SettleLink } from './settle-link.js';
import { text } from '../../text/en.js';

/** @typedef {import('./find.js').Find} Find */

/** Rows of the list, and numbers of the plot, at a time. */
const PART = 100;

/** @param {{of: string}} props the outing's id */
export function OutingPage({ of }) {
  const t = text.outings;
  const back = { to: '/shore/outings', back: t.title };
  const shown = useSignal(PART);
  const read = useSignal(false);
  useEffect(() => void ready('outing').then(() => (read.value = true)), []);
  const outing = outings.value.find(({ id }) => id === of);
  if (!outing) return html`<${FindFrame} title=${t.title} ...${back}>${read.value && html`<p>${t.missing}</p>`}<//>`;
  const all = findsOf(of);
  const rows = all.slice(0, shown.value).map((find, i) => ({ find, number: i + 1 }));
  const placed = rows.flatMap(({ find: { position }, number }) => (position && position !== 'noFix' ? [{ number, position }] : []));
  const without = rows.filter(({ find: { position } }) => !position || position === 'noFix');
  return html`<${FindFrame} title=${shoreName(outing)} wide=${true} ...${back}>
    <p>${spanOf(outing)}${outing.startedMs === null ? ` · ${t.planned}` : outing.endedMs === null ? ` · ${t.under}` : ''}</p>
    ${outing.party.length > 0 && html`<p>${t.party}: ${outing.party.map(({ id, name, number }) => name || nameOf(id) || number).join(', ')}</p>`}
    <${SettleLink} of=${of} main />
    <div class="outing-finds">
      <section aria-labelledby="plot"><h2 id="plot">${t.plot}</h2>
        ${placed.length > 0 ? html`<${Plot} placed=${placed} />` : html`<p>${t.plotNone}</p>`}
        ${placed.length > 0 && without.length > 0 && html`<h3>${t.withoutFix}</h3><ul class="plain" data-without>${without.map(({ find, number }) => html`<li key=${find.id}>${number} ${what(find)}</li>`)}</ul>`}
      </section>
      <section aria-labelledby="found"><h2 id="found">${t.list}: ${all.length}</h2>
        ${rows.length > 0 && html`<${Table} rows=${rows} placed=${placed} zone=${zoneOf(outing.shore)} />`}
        ${all.length > shown.value && html`<button type="button" class="quiet" data-do="more" onClick=${() => (shown.value += PART)}>${text.today.more}</button>`}
      </section>
    </div>
    <p><${Link} class="button" data-do="history" to=${`/house/history/outing/${of}`}>${t.history}<//></p>
  <//>`;
}

/** @param {{rows: {find: Find, number: number}[], placed: import('./plot.js').Placed[], zone: string}} props */
function Table({ rows, placed, zone }) {
  const t = text.outings;
  const at = layOut(placed).at;
  const from = new Map(placed.map(({ number }, i) => [number, t.from(at[i].eastM, at[i].northM)]));
  return html`<div class="scrolls" role="region" tabindex="0" aria-label=${t.list}><table class="finds-table">
    <thead><tr>${Object.entries(t.columns).map(([name, words]) => html`<th key=${name} scope="col">${words}</th>`)}</tr></thead>
    <tbody>${rows.map(({ find, number }) => html`<tr key=${find.id} data-find=${find.id}>
      <td>${number}</td><th scope="row"><${Link} to=${`/shore/find/${find.id}`}>${what(find)}<//></th><td>${howMuch(find)}</td><td>${find.fate && text.finds.fates[find.fate]}${find.putBack ? `, ${text.finds.back_}` : ''}</td>
      <td>${nameOf(find.by)}</td><td>${clock(new Date(find.atMs).toISOString(), zone)}</td><td>${from.get(number) ?? t.noPosition}</td></tr>`)}</tbody>
  </table></div>`;
}
