// What is to be done in the tanks, what is overdue first, each with its touch.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { dayName } from '../parts/when.js';
import { act, duePath, dueWords, takeBack } from './due-acts.js';
import { adultLooks, WhoLooks } from './check-who.js';
import { grouped } from './due-order.js';
import { due as all, may, picture } from './picture-state.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @typedef {import('./picture-state.js').Due} Due */
/** @typedef {import('./due-acts.js').Done} Done */

/** What only an adult's phone does. */
const DECIDES = ['confirm', 'dip', 'clear', 'trim', 'topUp', 'waterChange'];

export function DueList() {
  const t = text.due;
  const done = useSignal(/** @type {Done | undefined} */ (undefined));
  const busy = useSignal('');
  const list = all.value;
  /** @param {Due} due */
  const touch = async (due) => {
    if (busy.value) return; // a wet thumb touches twice
    busy.value = keyOf(due);
    done.value = await act(due);
    busy.value = '';
    requestAnimationFrame(() => document.getElementById('due-done')?.focus());
  };
  const undo = async () => {
    if (done.value) await takeBack(done.value);
    done.value = undefined;
    document.getElementById('due')?.focus();
  };
  return html`<section class="due" aria-labelledby="due" data-due=${list.length}>
    <h2 id="due" tabindex="-1">${text.home.due}</h2>
    ${done.value && (done.value.kept
      ? html`<div class="saved" data-done><p id="due-done" tabindex="-1">${done.value.says}${done.value.ids.length > 0 && !adultLooks.value ? ` ${text.who.child}` : ''}</p>${may.value.decide && html`<button type="button" class="quiet" data-do="undo" onClick=${undo}>${t.undo}</button>`}</div>`
      : html`<p class="heed" id="due-done" tabindex="-1" role="alert">${text.unkept}</p>`)}
    ${list.length === 0 && html`<p>${text.home.dueNone}</p>`}
    ${list.some(({ what }) => ['check', 'search', 'confirm'].includes(what)) && may.value.note && html`<${WhoLooks} />`}
    <ul class="due-list">${grouped(list).map((group) => (group.list.length === 1 ? html`<${Row} key=${keyOf(group.list[0])} due=${group.list[0]} touch=${touch} />` : html`<${Many} key=${group.what} group=${group} touch=${touch} />`))}</ul>
  </section>`;
}

/** @param {Due} due */
const keyOf = ({ what, system, specimen, events }) => [what, system, specimen, events?.[0]].join(' ');

/** @param {{list: Due[]}} props */
function Late({ list }) {
  const first = list.filter(({ overdue }) => overdue).map(({ day }) => day).sort()[0];
  if (!first) return null;
  return html`<span class="overdue">${text.due.overdue} ${text.due.since(dayName(first, picture.value?.day ?? first))}</span>`;
}

/**
 * Many of one kind. Looks are walked; the others fold out.
 * @param {{group: import('./due-order.js').Group, touch: (due: Due) => void}} props
 */
function Many({ group: { what, list, overdue }, touch }) {
  const t = text.due;
  const words = /** @type {Record<string, (n: number) => string>} */ (t.many)[what]?.(list.length) ?? t.other(what, String(list.length));
  return html`<li data-what=${what === 'check' ? 'walk' : `many-${what}`} data-overdue=${overdue}><p><strong>${words}</strong><${Late} list=${list} /></p>
    ${what === 'check' ? may.value.note && html`<${Link} class="button main" to="/tanks/walk" data-do="walk">${t.do.walk}<//>`
      : html`<details><summary>${t.each}</summary><ul class="due-list inner">${list.map((due) => html`<${Row} key=${keyOf(due)} due=${due} touch=${touch} />`)}</ul></details>`}</li>`;
}

/** @param {{due: Due, touch: (due: Due) => void}} props */
function Row({ due, touch }) {
  const t = text.due;
  const words = dueWords(due);
  const path = duePath(due);
  const does = (/** @type {string} */ what) => /** @type {Record<string, string>} */ (t.do)[what] ?? t.do.open;
  const says = due.what === 'confirm' && due.days?.length === 1 ? t.do.confirmOne : ['sign', 'ask', 'question'].includes(due.what) ? t.do.look : does(due.what);
  const ours = may.value.note && (may.value.decide || !DECIDES.includes(due.what));
  return html`<li data-what=${due.what} data-system=${due.system} data-overdue=${due.overdue}>
    <p><strong>${words}</strong><${Late} list=${[due]} /></p>
    ${!may.value.note ? null : !ours ? html`<p class="soft">${t.child}</p>` : html`<div class="does">
      ${path ? html`<${Link} class="button" to=${path} aria-label=${t.label(says, words)} data-do=${due.what}>${says}<//>`
        : html`<button type="button" class=${due.what === 'check' ? 'fill' : ''} aria-label=${t.label(says, words)} data-do=${due.what} onClick=${() => touch(due)}>${says}</button>`}
      ${due.what === 'check' && html`<${Link} class="button" to=${`/tanks/check/${due.system}`} aria-label=${t.label(t.do.seen, words)} data-do="seen">${t.do.seen}<//>`}
    </div>`}
  </li>`;
}
