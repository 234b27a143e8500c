// The weekly tick sheet to print: systems in shelf order, a box a day.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { now } from '../parts/now.js';
import { addDays, dayName, localDay } from '../parts/when.js';
import { Page } from '../house/page.js';
import { household } from '../../data/household.js';
import { EnterPage } from './ticks-enter.js';
import { PaperChoice, paperSize, PrintBar, Sheets } from './paper-sheet.js';
import { zone } from './picture-state.js';
import { onTheShelf } from './ticks-systems.js';
import { isDay, mondayOf, weekOf } from './ticks-week.js';
import { paper } from '../../text/en-tank-paper.js';
import { tanks as words } from '../../text/en-tanks.js';

/** Lines that a sheet has room for; with few of them each is higher, and there is more room for what was seen. */
const LINES = 20;
const FEW = 10;
const SEEN_LINES = { few: 6, many: 3 };

/** @param {{of: string[]}} props a day of the week; or "enter" and the week's first */
export function TicksPage({ of: [first, second] }) {
  const today = localDay(now.value, zone.value);
  if (first === 'enter') return html`<${EnterPage} key=${second} week=${isDay(second) ? mondayOf(second) : mondayOf(today)} named=${second === undefined || isDay(second)} />`;
  return html`<${PrintPage} monday=${mondayOf(isDay(first) ? first : today)} today=${today} />`;
}

/** @param {{monday: string, today: string}} props */
function PrintPage({ monday, today }) {
  const t = paper.ticks;
  const days = weekOf(monday);
  const list = onTheShelf();
  const parts = Array.from({ length: Math.max(1, Math.ceil(list.length / LINES)) }, (_, i) => list.slice(i * LINES, (i + 1) * LINES));
  return html`<${Page} title=${t.title} to="/tanks" back=${words.title}>
    <p class="screen">${t.why}</p>
    ${list.length === 0 ? html`<p class="screen">${t.none}</p>` : html`
      <div class="week-turn screen"><h2>${t.weekOf(dayName(days[0], today), dayName(days[6], today))}</h2>
        <${Link} class="button" to=${`/tanks/ticks/${addDays(monday, -7)}`} data-do="before">${t.before}<//>
        <${Link} class="button" to=${`/tanks/ticks/${addDays(monday, 7)}`} data-do="after">${t.after}<//></div>
      <${PaperChoice} />
      <${PrintBar}>${monday <= today && html`<${Link} class="button" to=${`/tanks/ticks/enter/${monday}`} data-do="enter">${t.enter}<//>`}<//>
      <${Sheets} paper=${paperSize.value} wide kind="ticks" label=${paper.preview} sheets=${parts.map((part, i) => html`<${TickSheet} days=${days} list=${part} nth=${i} of=${parts.length} />`)} />`}
  <//>`;
}

/** @param {{days: string[], list: import('./ticks-systems.js').Shelved[], nth: number, of: number}} props */
function TickSheet({ days, list, nth, of }) {
  const t = paper.ticks;
  const name = (/** @type {string} */ day) => dayName(day, day).split(' ');
  const blank = (/** @type {string} */ key) => days.map((day) => html`<td key=${key + day} />`);
  return html`<header><h2>${t.sheet(household.value.name)}</h2><p>${t.weekOf(dayName(days[0], ''), dayName(days[6], ''))}${of > 1 && ` (${nth + 1}/${of})`}</p></header>
    <p class="tick-how">${t.how}</p>
    <table class=${`tick-table${list.length <= FEW ? ' tick-few' : ''}`}>
      <thead>
        <tr><th scope="col">${t.system}</th>${days.map((day) => html`<th scope="col"><strong>${name(day)[0]}</strong> ${name(day).slice(1).join(' ')}</th>`)}</tr>
        <tr class="tick-by"><th scope="row">${t.time}</th>${blank('time')}</tr>
        <tr class="tick-by"><th scope="row">${t.who}</th>${blank('who')}</tr>
      </thead>
      <tbody>${list.map(({ ref, name: called }) => html`<tr key=${ref} data-tick=${ref}><th scope="row">${called}</th>${days.map((day) => html`<td key=${day}><i class="tick-box" /></td>`)}</tr>`)}</tbody>
    </table>
    <section class="tick-seen"><h3>${t.seenTitle}</h3><table><thead><tr>${t.seenColumns.map((column) => html`<th scope="col">${column}</th>`)}</tr></thead>
      <tbody>${Array.from({ length: list.length <= FEW ? SEEN_LINES.few : SEEN_LINES.many }, () => html`<tr><td /><td /><td /></tr>`)}</tbody></table></section>
    <footer><p>${t.foot}</p><p>${t.back}</p></footer>`;
}
