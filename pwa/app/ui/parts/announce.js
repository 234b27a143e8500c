// What a reader of the screen hears without moving: one live region, in the shell.

import { signal } from '@preact/signals';
import { html } from './html.js';

const said = signal('');

/** @param {string} sentence */
export function announce(sentence) {
  said.value = sentence;
}

export function LiveRegion() {
  return html`<div class="unseen" role="status" aria-live="polite">${said.value}</div>`;
}
