// The finds of one day, by person, with what was taken of each kind. A long day is shown a
// part at a time.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { now } from '../parts/now.js';
import { clock, dayAndClock, dayName, localDay } from '../parts/when.js';
import { FindFrame } from './find-frame.js';
import { takenOf } from './find.js';
import { Marks, howMuch, what } from './find-words.js';
import { bringBack, daysAround, findsOn, nameOf, readsOnly, takeBack, unfinished, zoneOf } from './finds-state.js';
import { Thumb } from './thumb.js';
import { Tally } from './verdict.js';
import { text } from '../../text/en.js';

/** @typedef {import('./find.js').Find} Find */

const PART = 40;

/** @param {{day?: string}} props YYYY-MM-DD; today without */
export function TodayPage({ day }) {
  const t = text.today;
  const zone = zoneOf();
  const today = localDay(now.value, zone);
  const of = day && /^\d{4}-\d{2}-\d{2}$/.test(day) ? day : today;
  const shown = useSignal(PART);
  const all = findsOn(of, zone);
  const list = all.filter(({ deleted }) => !deleted);
  const off = all.filter(({ deleted }) => deleted);
  const { before, after } = daysAround(of, zone);
  const part = list.slice(0, shown.value);
  const open = unfinished.value.filter(({ id }) => !list.some((one) => one.id === id));
  return html`<${FindFrame} title=${of === today ? t.title : t.of(dayName(of, today))}>
    ${list.length === 0 ? html`<p>${t.none}</p>` : html`<p>${text.finds.count(list.length)}</p>`}
    ${byPerson(part, list).map(({ by, rows, all: every }) => html`<section key=${by} class="person" data-by=${by} aria-label=${nameOf(by) || text.finds.nobody}>
      <h2>${nameOf(by) || text.finds.nobody}</h2>
      <${Totals} finds=${every} />
      <ol class="finds-list">${rows.map((find) => html`<${Row} key=${find.id} find=${find} zone=${zone} />`)}</ol>
    </section>`)}
    ${list.some(({ fate }) => fate === 'taken') && html`<${Tally} finds=${list} />`}
    ${list.length > shown.value && html`<button type="button" class="quiet" data-do="more" onClick=${() => (shown.value += PART)}>${t.more}</button>`}
    ${off.length > 0 && html`<details class="off-list"><summary>${t.gone} (${off.length})</summary>
      <ul class="finds-list">${off.slice(0, PART).map((find) => html`<li key=${find.id} data-off=${find.id}><p>${howMuch(find)} ${what(find)}, ${clock(at(find), zone)}</p>
        <button type="button" data-do="bring-back" aria-label=${t.bringBackLabel(what(find))} onClick=${async () => { await bringBack(find.id); announce(t.broughtBack); }}>${t.bringBack}</button></li>`)}</ul></details>`}
    ${open.length > 0 && html`<section aria-labelledby="unfinished"><h2 id="unfinished">${t.unfinished}</h2>
      <ul class="finds-list" data-unfinished>${open.slice(0, PART).map((find) => html`<li key=${find.id}><${Link} to=${`/shore/find/${find.id}`}>${find.photos[0] && html`<${Thumb} sha=${find.photos[0]} alt="" />`}
        <span><strong>${what(find)}</strong><span>${dayAndClock(at(find), zoneOf(find.shore))}</span></span><//></li>`)}</ul></section>`}
    <nav class="two" aria-label=${t.title}>
      ${before && html`<${Link} class="button" data-do="before" to=${`/shore/today/${before}`}>← ${t.before}<//>`}
      ${after && html`<${Link} class="button" data-do="after" to=${`/shore/today/${after}`}>${t.after} →<//>`}
    </nav>
    ${!readsOnly.value && html`<div class="bottom"><${Link} class="button main" to="/shore/log">${t.log}<//></div>`}
  <//>`;
}

/** @param {Find} find */
const at = (find) => new Date(find.atMs).toISOString();

/**
 * The rows to show by person, in the order of the latest find of each, with all finds of
 * that person for the totals.
 * @param {Find[]} part
 * @param {Find[]} list
 */
function byPerson(part, list) {
  /** @type {Map<string, {by: string | null, rows: Find[], all: Find[]}>} */
  const people = new Map();
  for (const [into, finds] of /** @type {['rows' | 'all', Find[]][]} */ ([['rows', part], ['all', list]])) {
    for (const find of finds) {
      const key = find.by ?? '';
      if (!people.has(key)) people.set(key, { by: find.by, rows: [], all: [] });
      people.get(key)?.[into].push(find);
    }
  }
  return [...people.values()].filter(({ rows }) => rows.length > 0);
}

/** @param {{finds: Find[]}} props */
function Totals({ finds }) {
  const t = text.today;
  /** @type {Map<string, Find[]>} */
  const kinds = new Map();
  for (const find of finds) if (find.fate === 'taken') kinds.set(what(find), [...(kinds.get(what(find)) ?? []), find]);
  const rows = [...kinds].flatMap(([kind, list]) => takenOf(list).map(({ value, unit }) => t.total(text.finds.amount(value, unit), kind)));
  return html`<p class="totals">${rows.length > 0 ? rows.map((row) => html`<span key=${row}>${row}</span>`) : t.noneTaken}</p>`;
}

/** @param {{find: Find, zone: string}} props */
function Row({ find, zone }) {
  const t = text.today;
  const f = text.finds;
  const time = clock(at(find), zone);
  const fate = find.putBack ? `${f.taken}, ${f.back_}` : find.fate && f.fates[find.fate];
  const undo = async () => {
    await takeBack(find.id);
    announce(t.off);
    document.getElementById('page')?.focus();
  };
  return html`<li data-find=${find.id}>
    <${Link} to=${`/shore/find/${find.id}`}>
      ${find.photos[0] && html`<${Thumb} sha=${find.photos[0]} alt="" />`}
      <span><strong>${howMuch(find)} ${what(find)}</strong>
      <span>${[fate, find.state && f.states[find.state], time].filter(Boolean).join(', ')}</span>
      <${Marks} find=${find} /></span>
    <//>
    ${!readsOnly.value && html`<button type="button" data-do="undo" aria-label=${t.undoLabel(what(find), time)} onClick=${undo}>${t.undo}</button>`}
  </li>`;
}
