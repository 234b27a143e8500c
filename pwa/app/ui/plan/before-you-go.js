// What to mind before going, wherever a morning is chosen: short, and the rest behind it.

import { html } from '../parts/html.js';
import { level } from '../parts/when.js';
import { shore } from './shore-state.js';
import { text } from '../../text/en.js';

export function BeforeYouGo() {
  const t = text.before;
  const limit = shore.value?.swellLimit;
  return html`<section class="before" aria-labelledby="before">
    <h2 class="unseen" id="before">${t.title}</h2>
    <details><summary><strong>${t.title}.</strong> ${t.short}</summary>
      <ul class="points">${t.rest.map((line) => html`<li>${line}</li>`)}</ul>
    </details>
    ${typeof limit === 'number' && html`<p>${t.swellLimit(level(limit))}</p>`}
  </section>`;
}
