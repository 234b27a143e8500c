// The list as it is printed.

import { html } from '../parts/html.js';
import { clock, dayName, duration, level, nearestClock } from '../parts/when.js';
import { waterHeight } from '../parts/units.js';
import { byDate, list, RAISE } from './plan-state.js';
import { ClosedLine } from './closed-notes.js';
import { closedOf } from './closed-state.js';
import { everywhere } from './notes.js';
import { Sheet } from './sheet.js';
import { listed } from './windows.js';
import { takes } from '../../text/en-takes.js';
import { text } from '../../text/en.js';

/** @param {{shore: import('./shore-state.js').Shore}} props */
export function ListSheet({ shore }) {
  const found = list.shown.value?.answer;
  if (!found) return null;
  const t = text.sheet.columns;
  const windows = byDate(listed(found, shore.zone));
  /** @param {string} instant */
  const at = (instant) => clock(instant, shore.zone);
  const said = everywhere(windows);
  const marks = /** @type {Record<string, string>} */ (text.sheet.marks);
  return html`<${Sheet} shore=${shore} title=${text.sheet.listTitle(shore.name)} kind="list">
    <table>
      <thead><tr>${[t.day, t.usable, t.long, t.low, t.back, t.off, t.raised(level(RAISE)), t.mind].map((words) => html`<th scope="col">${words}</th>`)}</tr></thead>
      <tbody>${windows.map((w) => html`<tr><th scope="row">${dayName(w.day, '')}</th>
        <td>${text.window.usable(at(w.usableFrom), at(w.usableTo))}</td><td>${duration(w.usableMinutes)}</td>
        <td>${waterHeight(w.low.height)} ${nearestClock(w.low.time, shore.zone)}</td><td><strong>${at(w.startBack)}</strong></td><td>${at(w.offBy)}</td>
        <td>${w.raised ? duration(w.raised.usableMinutes) : text.sheet.noneShown}</td>
        <td>${[closedMark(w), ...w.cautions.map((/** @type {any} */ note) => marks[note.code])].filter(Boolean).join(', ')}</td></tr>`)}</tbody>
    </table>
    ${windows.length === 0 && html`<p>${found.windows.none?.text ?? text.list.noMorning(found.windows.windows.length)}</p>`}
    <${ClosedLine} windows=${windows} paper=${true} />
    ${said.map((note) => html`<p>${note.text}</p>`)}
  <//>`;
}

/**
 * @param {any} w a window
 */
function closedMark(w) {
  const closed = closedOf(w)?.closed ?? [];
  if (closed.length === 0) return '';
  const t = takes.closed;
  return closed.some(({ sure, open }) => sure && open.length === 0) ? t.mark : closed.some(({ sure }) => sure) ? t.markPart : t.maybe;
}
