// The cautions that stand wherever a morning is chosen.

import { html } from '../parts/html.js';
import { text } from '../../text/en.js';

export function Cautions() {
  return html`<section class="cautions"><h2>${text.plan.cautionsTitle}</h2>
    <ul>${text.plan.cautions.map((c) => html`<li>${c}</li>`)}</ul></section>`;
}
