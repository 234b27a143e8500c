// A list of gear or of containers, each ticked when it is packed.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { MOST, thing } from './outing-fields.js';
import { text } from '../../text/en.js';

/** @typedef {import('./outing-fields.js').Thing} Thing */

/**
 * @param {{name: string, title: string, hint: string, another: string, list: any[], set: (list: any[]) => void}} props
 */
export function KitForm({ name, title, hint, another, list, set }) {
  const t = text.trip;
  const more = useSignal('');
  const says = useSignal('');
  const id = `more-${name}`;
  const take = () => {
    const what = more.value.trim();
    if (!what) return document.getElementById(id)?.focus();
    says.value = Array.from(what).length > MOST.what ? t.tooLong(MOST.what) : '';
    if (says.value) return;
    set([...list, thing(what)]);
    more.value = '';
  };
  const key = (/** @type {KeyboardEvent} */ event) => {
    if (event.key !== 'Enter') return;
    event.preventDefault();
    take();
  };
  return html`<fieldset class="kit">
    <legend><h2>${title}</h2></legend>
    <p class="soft">${hint}</p>
    <ul class="kit-list">${list.map((one) => html`<li key=${one.word} data-thing=${one.word}>
      <label class="check"><input type="checkbox" checked=${one.packed} onChange=${() => set(list.map((/** @type {Thing} */ other) => (other.word === one.word ? { ...other, packed: !other.packed } : other)))} /> ${one.what}</label>
      <button type="button" class="quiet" aria-label=${t.without(one.what)} onClick=${() => set(list.filter((/** @type {Thing} */ other) => other.word !== one.word))}>${t.notNeeded}</button>
    </li>`)}</ul>
    <div class="add-row"><label class="choose-one" for=${id}><span>${another}</span>
      <input id=${id} type="text" autocomplete="off" value=${more.value} onKeyDown=${key} onInput=${(/** @type {any} */ e) => (more.value = e.target.value)} aria-describedby=${id + '-wrong'} /></label>
      <button type="button" aria-label=${t.add} onClick=${take}>${t.addGuest}</button></div>
    <p id=${id + '-wrong'} class="wrong">${says.value}</p>
  </fieldset>`;
}
