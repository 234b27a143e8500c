// A number that a wet thumb sets: one fewer, one more.

import { html } from '../parts/html.js';

/**
 * @param {{id: string, label: string, fewer: string, more: string, value: number, most?: number, set: (n: number) => void}} props
 */
export function Stepper({ id, label, fewer, more, value, most = 99, set }) {
  const to = (/** @type {number} */ n) => set(Math.min(most, Math.max(0, n)));
  return html`<div class="stepper" role="group" aria-labelledby=${id + '-label'}>
    <span id=${id + '-label'}>${label}</span>
    <button type="button" data-do=${id + '-fewer'} aria-label=${`${label}: ${fewer}`} onClick=${() => to(value - 1)}>−</button>
    <output id=${id} aria-live="polite">${value}</output>
    <button type="button" data-do=${id + '-more'} aria-label=${`${label}: ${more}`} onClick=${() => to(value + 1)}>+</button>
  </div>`;
}
