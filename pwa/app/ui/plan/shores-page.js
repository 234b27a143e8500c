// My shores: one tap chooses, and from here they are added, changed and brought back.

import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { announce } from '../parts/announce.js';
import { level } from '../parts/when.js';
import { go } from '../route.js';
import { Install } from '../parts/install.js';
import { bringBack, deleted, recalled, select, shore, shores } from './shore-state.js';
import { Unkept } from './unkept.js';
import { text } from '../../text/en.js';

/** The shore that was deleted a moment ago: the way back stands ready. */
export const justDeleted = signal('');

export function ShoresPage() {
  const t = text.shores;
  useEffect(() => {
    const gone = deleted.peek().find((one) => one.id === justDeleted.peek());
    justDeleted.value = '';
    if (!gone) return;
    announce(t.wasDeleted(gone.name));
    document.querySelector(/** @type {'button'} */ (`[data-undo="${gone.id}"]`))?.focus();
  }, []);
  if (!recalled.value) return html`<h1>${t.title}</h1>`;

  /** @param {import('./shore-state.js').Shore} one */
  const choose = (one) => {
    select(one.id);
    announce(t.isChosen(one.name));
    go('/plan');
  };
  /** @param {import('./shore-state.js').Shore} one */
  const undo = async (one) => {
    await bringBack(one);
    announce(t.isBack(one.name));
    document.getElementById('page')?.focus();
  };
  const { bareBelow, cutAt, cutUnknown } = text.plan;
  return html`
    <h1>${t.title}</h1>
    <${Unkept} />
    ${shores.value.length > 0 ? html`<p>${t.intro}</p>` : html`<p>${t.none}</p>`}
    <ul class="my-shores">${shores.value.map((one) => html`<li key=${one.id} data-shore=${one.id}>
      <button type="button" aria-pressed=${shore.value?.id === one.id} onClick=${() => choose(one)}>
        <strong>${one.name}</strong>${shore.value?.id === one.id && html` <span class="is-chosen">✓ ${t.chosen}</span>`}
        <span class="soft">${one.stationName === one.name ? '' : one.stationName + ' · '}${bareBelow(level(one.below))} · ${one.wayOff === null ? cutUnknown : cutAt(level(one.wayOff))}</span>
      </button>
      <${Link} class="button" aria-label=${t.editLabel(one.name)} to=${'/plan/shore/' + one.id}>${t.edit}<//>
    </li>`)}</ul>
    <p class="actions"><${Link} class="button main" to="/plan/shore/new" data-do="add">${t.add}<//></p>
    ${deleted.value.length > 0 && html`<section aria-labelledby="deleted"><h2 id="deleted">${t.deleted}</h2>
      <ul class="my-shores">${deleted.value.map((one) => html`<li key=${one.id}><p>${t.wasDeleted(one.name)}</p>
        <button type="button" class="quiet" data-undo=${one.id} aria-label=${t.undoLabel(one.name)} onClick=${() => undo(one)}>${t.undo}</button></li>`)}</ul></section>`}
    <${Install} />`;
}
