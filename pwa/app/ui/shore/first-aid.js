// First aid by animal, with source and country. Never one rule for a kind of animal the world
// over, and always: call first.

import { html } from '../parts/html.js';
import { text } from '../../text/en.js';

/** @param {{country: string}} props two letters, '' if not said */
export function FirstAid({ country }) {
  const t = text.aid;
  const here = country === 'AU' || country === 'NZ' ? t.countries[country] : undefined;
  return html`<section class="aid" aria-labelledby="aid" data-country=${here ? country : 'other'}>
    <h2 id="aid">${t.title}</h2>
    <p><strong>${t.first}</strong></p>
    <p>${here ? t.yours(here) : country ? t.other : t.unsaid}</p>
    ${here ? html`<${Animals} />` : html`<details><summary>${t.show}</summary><${Animals} /></details>`}
    <h3>${t.others}</h3>
    <p>${t.othersSay}</p>
    <p>${t.hands}</p>
  </section>`;
}

function Animals() {
  const t = text.aid;
  return html`<dl class="animals">${t.animals.map(([animal, aid]) => html`<dt>${animal}</dt><dd>${text.help.callFirst}. ${aid}</dd>`)}</dl>
    <p class="soft">${t.source}</p>`;
}
