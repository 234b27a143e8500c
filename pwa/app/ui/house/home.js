// The first page of House.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { Install } from '../parts/install.js';
import { me, refreshMe } from '../../data/door.js';
import { Exchange } from './exchange.js';
import { ThisPhone } from './this-phone.js';
import { Who } from './who.js';
import { reach } from '../../text/en-reach.js';
import { rules } from '../../text/en-rules.js';
import { text } from '../../text/en.js';

const everyones = /** @type {const} */ (['household', 'members', 'kinds', 'measures']);
const keepers = /** @type {const} */ (['household', 'members', 'kinds', 'measures', 'devices', 'invite', 'reach', 'backup']);

export function Home() {
  // A role or a name may have changed; a phone whose storage was cleared may still be known.
  useEffect(() => void refreshMe().catch(() => {}), []);
  const pages = me.value?.device.role === 'keeper' ? keepers : everyones;
  return html`
    <h1>${text.house.title}</h1>
    <div class="house">
      <div>
        <${Who} />
        ${me.value && html`<${Exchange} />`}
        <nav class="rows" aria-label=${text.house.householdPages}>
          <${Link} to="/plan/shores"><strong>${text.shores.title}</strong><span class="soft">${text.house.shoresHint}</span><//>
          <${Link} to="/house/rules" data-do="rules"><strong>${rules.title}</strong><span class="soft">${rules.hint}</span><//>
          ${pages.map((page) => html`
          <${Link} to=${'/house/' + page}><strong>${(page === 'reach' ? reach : text[page]).title}</strong><span class="soft">${(page === 'reach' ? text.reaching : text[page]).hint}</span><//>`)}
        </nav>
      </div>
      <div>
        <${Install} />
        <${ThisPhone} />
      </div>
    </div>`;
}
