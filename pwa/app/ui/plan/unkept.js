// A shore that this phone has refused to keep: said wherever shores are shown.

import { html } from '../parts/html.js';
import { save, unkept } from './shore-state.js';
import { text } from '../../text/en.js';

export function Unkept() {
  const lost = unkept.value;
  if (!lost) return null;
  const t = text.head;
  return html`<div class="heed" role="alert" data-unkept>
    <p>${t.unkept(lost.name)}</p>
    <button type="button" class="quiet" onClick=${() => save(lost)}>${t.keepAgain}</button>
  </div>`;
}
