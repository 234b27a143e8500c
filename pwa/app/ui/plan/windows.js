// The list of windows, or why there is none.

import { html } from '../parts/html.js';
import { dayName } from '../parts/when.js';
import { ask, asked, byDate, isMorning, list, today } from './plan-state.js';
import { everywhere } from './notes.js';
import { ClosedLine } from './closed-notes.js';
import { Status } from './status.js';
import { WindowRow } from './window-row.js';
import { text } from '../../text/en.js';

/** @typedef {import('./plan-state.js').List} List */

/** The windows as they are listed: without those filtered out, in the order asked for. */
export function listed(/** @type {List | undefined} */ found, /** @type {string} */ zone) {
  const windows = (found?.windows.windows ?? []).filter((/** @type {any} */ w) => !asked.value.mornings || isMorning(w, zone));
  return asked.value.order === 'date' ? byDate(windows) : windows;
}

/** @param {{shore: import('./shore-state.js').Shore}} props */
export function Windows({ shore }) {
  const shown = list.shown.value;
  const found = shown?.answer;
  const windows = listed(found, shore.zone);
  const said = everywhere(windows);
  const question = shown && JSON.stringify(JSON.parse(shown.question).windows);
  /** @param {any} w */
  const row = (w) => html`<${WindowRow} key=${w.low.time} window=${w} shore=${shore} strips=${found?.strips ?? []} said=${said} />`;
  return html`<section class="windows" aria-labelledby="windows" aria-busy=${!shown && !list.failure.value} data-question=${question} data-kept=${String(Boolean(shown?.keptAt))}>
    <h2 class="unseen" id="windows">${text.plan.listTitle}</h2>
    <${Status} of=${list} zone=${shore.zone} found=${windows.length ? text.list.found(windows.length, asked.value.order === 'best') : ''} more=${text.list.astronomical} />
    ${said.length > 0 && html`<ul class="heed">${said.map((note, i) => html`<li data-caution=${note.code}>${i === 0 && html`<strong>${text.list.everywhere}</strong> `}${note.text}</li>`)}</ul>`}
    <${ClosedLine} windows=${windows} />
    ${found && windows.length === 0 && html`<${None} found=${found} row=${row} />`}
    <ol>${windows.map(row)}</ol>
  </section>`;
}

/**
 * Why there is none, and the next one.
 * @param {{found: List, row: (w: any) => any}} props
 */
function None({ found, row }) {
  const t = text.list;
  const { none } = found.windows;
  const next = found.nextMorning ?? (asked.value.mornings && !none ? undefined : none?.next);
  const count = found.windows.windows.length;
  return html`<p class="none">${none ? none.text : t.noMorning(count)} ${!none && !next && t.noMorningNext}</p>
    ${next && html`<p>${t.next}</p><ol>${row(next)}</ol>
      <button type="button" class="main" data-do="next" onClick=${() => ask({ from: next.day })}>${t.goThere(dayName(next.day, today.value))}</button>`}`;
}
