// What speaks against a window, on its row and on the page of its day; and once for all of them
// whether that was checked.

import { html } from '../parts/html.js';
import { clock } from '../parts/when.js';
import { Link } from '../parts/link.js';
import { anyRules, rulesRead } from '../../data/rules.js';
import { closedOf } from './closed-state.js';
import { takes } from '../../text/en-takes.js';

/** @typedef {import('./closed-state.js').Against} Against */

/** @param {{window: any, zone: string, full?: boolean}} props full: with the reasons for some kinds */
export function ClosedNotes({ window: w, zone, full }) {
  const found = closedOf(w);
  if (!found) return null;
  const t = takes.closed;
  /** @param {Against} note */
  const left = ({ open }) => open.map(({ from, to }) => t.span(clock(from, zone), clock(to, zone))).join(', ');
  /** @param {Against} note @param {string} shut */
  const line = (note, shut) => html`<li data-closed=${!note.sure ? 'maybe' : note.open.length > 0 ? 'part' : 'all'}>
    <strong>${!note.sure ? t.maybe : note.open.length > 0 ? t.part(left(note)) : shut}</strong> ${note.text}</li>`;
  const some = [...new Set(found.some.map(({ of }) => of))];
  return html`${found.closed.length > 0 && html`<ul class="heed">${found.closed.map((note) => line(note, t.all))}</ul>`}
    ${found.rests.length > 0 && html`<ul class="heed" data-rests>${found.rests.map((note) => line(note, t.rests))}</ul>`}
    ${some.length > 0 && html`<p class="some" data-some>${full ? found.some.map(({ of, text }) => html`<span>${t.some} ${of}: ${text} </span>`) : `${t.some} ${some.join('; ')}.`}</p>`}`;
}

/**
 * Why the windows were not held against closed days; '' where they were.
 * @param {any[]} windows
 */
function whyNot(windows) {
  const found = windows.map(closedOf);
  const [unchecked = ''] = found.flatMap((one) => one?.unchecked || []);
  return !anyRules.value ? 'none' : found.includes(undefined) ? 'waits' : unchecked;
}

/**
 * Whether the windows were held against closed days at all; said once.
 * @param {{windows: any[], paper?: boolean}} props paper: where no link leads anywhere
 */
export function ClosedLine({ windows, paper }) {
  if (windows.length === 0 || (!rulesRead.value && !paper)) return null;
  const t = takes.closed;
  const why = rulesRead.value ? whyNot(windows) : 'waits';
  return why ? html`<p class="soft" data-unchecked=${paper ? undefined : why} data-paper-unchecked=${paper ? why : undefined}>${t.unchecked[why] ?? t.unchecked.unsure} ${why !== 'waits' && !paper && html`<${Link} to="/house/rules">${t.toRules}<//>`}</p>` : null;
}
