// Plan before there is a shore.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { Install } from '../parts/install.js';
import { go } from '../route.js';
import { ShoreForm } from './shore-form.js';
import { deleted } from './shore-state.js';
import { text } from '../../text/en.js';

export function FirstShore() {
  return html`
    <h1>${text.plan.title}</h1>
    <p>${text.plan.noShore}</p>
    ${deleted.value.length > 0 && html`<p><${Link} class="button" to="/plan/shores">${text.shores.seeDeleted}<//></p>`}
    <${ShoreForm} done=${() => go('/plan')} />
    <${Install} first />`;
}
