// One field of a form: its label, a hint, what is wrong with it.

import { html } from './html.js';

/**
 * @param {{id: string, label: string, hint?: string, value: import('@preact/signals').Signal<string>,
 *   mode: 'decimal' | 'numeric', wrong?: string}} props
 */
export function Field({ id, label, hint, value, mode, wrong }) {
  return html`<div class="field">
    <label for=${id}>${label}</label>
    ${hint && html`<p id=${id + '-hint'} class="soft">${hint}</p>`}
    <input id=${id} name=${id} type="text" inputmode=${mode} autocomplete="off" value=${value.value}
      onInput=${(/** @type {any} */ event) => (value.value = event.target.value)}
      aria-invalid=${Boolean(wrong)} aria-describedby=${`${hint ? id + '-hint ' : ''}${id}-wrong`} />
    <p id=${id + '-wrong'} class="wrong">${wrong}</p>
  </div>`;
}
