// The warning on the screen, until somebody touches its button.

import { html } from '../parts/html.js';
import { limits } from './now-state.js';
import { hear, warning } from './warn.js';
import { text } from '../../text/en.js';

export function Warning() {
  const of = warning.value;
  if (!of) return null;
  const t = text.staff.warn;
  return html`<section class="warning" role="alert" aria-label=${t.label} data-warning=${of}>
    <p>${of === 'back' && limits.value?.why === 'thunder' ? t.thunder : t.says[of]}</p>
    <button type="button" data-do="heard" onClick=${hear}>${t.heard}</button>
  </section>`;
}
