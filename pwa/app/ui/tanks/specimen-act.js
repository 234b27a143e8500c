// What the forms about one specimen have in common: they check, note, say so and go back.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { go } from '../route.js';
import { tanks as text } from '../../text/en-tanks.js';
import { text as all } from '../../text/en.js';

/** As internal/book has it, in characters. */
export const MOST_WORDS = 300;

/** @param {string} words @param {string} needed said where there are none; '' where none are needed */
export const wordsWrong = (words, needed) => (!words.trim() ? needed : Array.from(words.trim()).length > MOST_WORDS ? all.trip.tooLong(MOST_WORDS) : '');

/**
 * A form of one act. note gives the first field that is wrong, or notes it.
 * @param {{back: string, does: string, said: string, grave?: boolean, children?: any, note: () => Promise<{wrong: string} | {kept: boolean}>}} props
 */
export function ActForm({ back, does, said, grave, children, note }) {
  const busy = useSignal(false);
  const says = useSignal('');
  const submit = async (/** @type {Event} */ event) => {
    event.preventDefault();
    if (busy.value) return;
    busy.value = true;
    const done = await note();
    busy.value = false;
    if ('wrong' in done) {
      announce(done.wrong);
      return void requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector('form [aria-invalid="true"]'))?.focus());
    }
    if (!done.kept) return void (says.value = text.unkept);
    go(back);
    announce(said);
  };
  return html`<form class="act" onSubmit=${submit} novalidate>${children}
    <p class="wrong" role="alert">${says.value}</p>
    <button type="submit" class=${grave ? 'grave' : 'main'} data-do="note" aria-disabled=${busy.value}>${does}</button></form>`;
}

/**
 * A choice among tanks.
 * @param {{id: string, label: string, list: {id: string, name?: string}[], value: import('@preact/signals').Signal<string>, none: string, wrong?: string}} props
 */
export function TankPick({ id, label, list, value, none, wrong }) {
  if (list.length === 0) return html`<p>${text.move.nowhere}</p><${Link} class="button" to="/tanks/tank/new">${text.home.newTank}<//>`;
  return html`<div class="field"><label for=${id}>${label}</label>
    <select id=${id} aria-invalid=${Boolean(wrong)} aria-describedby=${id + '-wrong'} onChange=${(/** @type {any} */ e) => (value.value = e.target.value)}>
      <option value="" selected=${!value.value}>${none}</option>
      ${list.map((one) => html`<option key=${one.id} value=${one.id} selected=${one.id === value.value}>${one.name}</option>`)}
    </select><p id=${id + '-wrong'} class="wrong">${wrong}</p></div>`;
}
