// Fields of a form of water: a figure with what is wrong with it or asked about it, a choice.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Field } from '../parts/field.js';

/** @typedef {import('./tank-draft.js').Draft} Draft */
/** @typedef {import('./reading-typed.js').Ask} Ask */
/** @typedef {{wrong: Record<string, string>, ask: Record<string, Ask>}} Doubts what is wrong, and what must be asked, by field */

/**
 * What was left or sent is spoken of, what is being typed is not.
 * @returns {{leave: (event: FocusEvent) => void, all: () => void, of: (name: string) => boolean}}
 */
export function useLeft() {
  const left = useSignal(/** @type {Set<string> | 'all'} */ (new Set()));
  return {
    leave: ({ target }) => {
      const { name } = /** @type {HTMLInputElement} */ (target);
      if (name && left.peek() !== 'all') left.value = new Set([.../** @type {Set<string>} */ (left.peek()), name]);
    },
    all: () => void (left.value = 'all'),
    of: (name) => left.value === 'all' || left.value.has(name),
  };
}

/** @typedef {ReturnType<typeof useLeft>} Left */

/**
 * @param {{name: string, label: string, hint?: string, draft: Draft, doubts: Doubts, left: Left, text?: boolean, lines?: number}} props
 */
export function Figure({ name, label, hint, draft, doubts, left, text, lines }) {
  const shown = left.of(name);
  const ask = shown ? doubts.ask[name] : undefined;
  const minus = /C$|^low|^high/.test(name); // temperatures may be below 0
  const yes = () => {
    if (ask) draft.set(ask.set);
    document.getElementById(name)?.focus();
  };
  return html`<div class="figure-field">
    <${Field} id=${name} label=${label} hint=${hint} value=${draft.fields[name]} mode=${text || minus ? 'text' : 'decimal'} wrong=${shown ? doubts.wrong[name] ?? ask?.says : ''} lines=${lines} />
    ${ask && html`<button type="button" data-ask=${name} onClick=${yes}>${ask.does}</button>`}
  </div>`;
}

/**
 * @param {{name: string, label: string, options: readonly string[], words: Record<string, string>, draft: Draft, of?: string}} props of: what it is about, for readers of the screen
 */
export function Pick({ name, label, options, words, draft, of }) {
  const is = draft.fields[name];
  return html`<div class="field"><label for=${name}>${of && html`<span class="unseen">${of}: </span>`}${label}</label>
    <select id=${name} name=${name} onChange=${(/** @type {any} */ e) => (is.value = e.target.value)}>
      ${options.map((one) => html`<option key=${one} value=${one} selected=${one === is.value}>${words[one] ?? one}</option>`)}
    </select></div>`;
}

/** Puts the focus on the first field that is wrong or asked about. */
export const toFirstWrong = () => requestAnimationFrame(() => {
  const field = /** @type {HTMLElement | null} */ (document.querySelector('form [aria-invalid="true"]'));
  field?.closest('details')?.setAttribute('open', '');
  field?.focus();
});
