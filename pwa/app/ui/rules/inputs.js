// The controls of these pages. Each takes what it shows and says what was typed.

import { html } from '../parts/html.js';
import { ruleForm } from '../../text/en-rule-form.js';

/** @typedef {(value: string) => void} Set */

/**
 * @param {{id: string, label: string, value: string, set: Set, hint?: string, wrong?: string, lines?: number, most?: number,
 *   type?: 'text' | 'date' | 'time' | 'search', mode?: 'decimal' | 'numeric' | 'text'}} props most: characters
 */
export function TextIn({ id, label, value, set, hint, wrong, lines, most, type = 'text', mode = 'text' }) {
  const described = `${hint ? `${id}-hint ` : ''}${id}-wrong`;
  const hear = (/** @type {any} */ event) => set(event.target.value);
  return html`<div class="field">
    <label for=${id}>${label}</label>
    ${hint && html`<p id=${`${id}-hint`} class="soft">${hint}</p>`}
    ${lines
      ? html`<textarea id=${id} rows=${lines} maxlength=${most} value=${value} onInput=${hear} aria-invalid=${Boolean(wrong)} aria-describedby=${described}></textarea>`
      : html`<input id=${id} type=${type} inputmode=${mode} autocomplete="off" maxlength=${most} value=${value} onInput=${hear} aria-invalid=${Boolean(wrong)} aria-describedby=${described} />`}
    <p id=${`${id}-wrong`} class="wrong">${wrong}</p>
  </div>`;
}

/** @param {{id: string, label: string, value: string, set: Set, options: [string, string][], wrong?: string}} props options: value and words */
export function PickIn({ id, label, value, set, options, wrong }) {
  return html`<div class="field"><label for=${id}>${label}</label>
    <select id=${id} value=${value} onChange=${(/** @type {any} */ e) => set(e.target.value)} aria-invalid=${Boolean(wrong)} aria-describedby=${`${id}-wrong`}>
      ${options.map(([is, words]) => html`<option key=${is} value=${is} selected=${is === value}>${words}</option>`)}
    </select><p id=${`${id}-wrong`} class="wrong">${wrong}</p></div>`;
}

/** @param {{label: any, checked: boolean, set: (is: boolean) => void, id?: string, name?: string, hint?: string}} props */
export function Tick({ label, checked, set, id, name, hint }) {
  return html`<label class="check"><input type="checkbox" id=${id} name=${name} checked=${checked} onChange=${(/** @type {any} */ e) => set(e.target.checked)} />
    <span>${label}${hint && html` <span class="soft">${hint}</span>`}</span></label>`;
}

/** @param {{name: string, legend: string, value: string, set: Set, options: [string, string][], wrong?: string, hint?: string}} props */
export function Radios({ name, legend, value, set, options, wrong, hint }) {
  return html`<fieldset class="field" aria-describedby=${`${name}-wrong`} data-radios=${name}><legend>${legend}</legend>
    ${hint && html`<p class="soft">${hint}</p>`}
    ${options.map(([is, words]) => html`<label class="check" key=${is}><input type="radio" name=${name} id=${`${name}-${is}`} value=${is} checked=${value === is} aria-invalid=${Boolean(wrong)}
      onChange=${() => set(is)} /> <span>${words}</span></label>`)}
    <p id=${`${name}-wrong`} class="wrong">${wrong}</p>
  </fieldset>`;
}

/**
 * One more of a list, one less of it.
 * @param {{on: boolean, n: number, add: () => void, less: () => void}} props on: whether there may be more
 */
export function More({ on, n, add, less }) {
  return html`<div class="one-more">${on && html`<button type="button" class="quiet" onClick=${add}>${ruleForm.rule.another}</button>`}${n > 1 && html`<button type="button" class="quiet" onClick=${less}>${ruleForm.rule.less}</button>`}</div>`;
}

/** Brings the first control that is at fault to the eye and the ear. */
export function toWrong() {
  requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector('main [aria-invalid="true"]'))?.focus());
}
