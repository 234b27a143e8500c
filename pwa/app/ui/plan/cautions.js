// The cautions that stand wherever a morning is chosen.

import { html } from '../parts/html.js';
import { text } from '../../text/en.js';

export function Cautions() {
  return html`<section class="cautions" aria-labelledby="cautions"><h2 id="cautions">${text.plan.cautionsTitle}</h2><p>${text.plan.cautions}</p></section>`;
}
