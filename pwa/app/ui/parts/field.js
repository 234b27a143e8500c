// One field of a form: its label, a hint, what is wrong with it.

import { html } from './html.js';

/**
 * A phone's keyboard for 'decimal' or 'numeric' may lack a minus sign: where one is
 * needed, the mode is 'text'.
 * @param {{id: string, label: string, hint?: string, value: import('@preact/signals').Signal<string>,
 *   mode: 'decimal' | 'numeric' | 'text', wrong?: string, lines?: number}} props
 */
export function Field({ id, label, hint, value, mode, wrong, lines }) {
  const described = `${hint ? id + '-hint ' : ''}${id}-wrong`;
  const hear = (/** @type {any} */ event) => (value.value = event.target.value);
  return html`<div class="field">
    <label for=${id}>${label}</label>
    ${hint && html`<p id=${id + '-hint'} class="soft">${hint}</p>`}
    ${lines
      ? html`<textarea id=${id} name=${id} rows=${lines} value=${value.value} onInput=${hear} aria-invalid=${Boolean(wrong)} aria-describedby=${described}></textarea>`
      : html`<input id=${id} name=${id} type="text" inputmode=${mode} autocomplete="off" value=${value.value} onInput=${hear}
          aria-invalid=${Boolean(wrong)} aria-describedby=${described} />`}
    <p id=${id + '-wrong'} class="wrong">${wrong}</p>
  </div>`;
}
