// The hard moments: what to do in the first hour, in order.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { Page } from '../house/page.js';
import { nameOf, tanks } from './picture-state.js';
import { fate } from '../../text/en-tank-fate.js';
import { tanks as words } from '../../text/en-tanks.js';

/** @typedef {import('../../text/en-tank-fate.js').Step} Step */

/** @param {{of: string[]}} props a card; then maybe the kind and id of a tank or system */
export function TroublePage({ of: [card, kind, id] }) {
  const t = fate.trouble;
  const shown = Object.keys(fate.cards).includes(card) ? fate.cards[card] : undefined;
  if (!shown) {
    return html`<${Page} title=${t.title} to="/tanks" back=${words.title}><p>${t.why}</p>
      <nav class="rows trouble-cards" aria-label=${t.title}>${Object.entries(fate.cards).map(([name, { title, first }]) => html`<${Link} to=${`/tanks/trouble/${name}`} data-card=${name}><strong>${title}</strong><span class="soft">${first}</span><//>`)}
        <${Link} to="/tanks/disposal"><strong>${t.disposal}</strong><//></nav>
      <p>${t.nobody}</p><//>`;
  }
  return html`<${Page} title=${shown.title} to="/tanks/trouble" back=${t.title}><${Card} card=${shown} given=${kind && id ? `${kind}/${id}` : ''} /><//>`;
}

/** @param {{card: import('../../text/en-tank-fate.js').Card, given: string}} props given: the tank, where it is known */
function Card({ card, given }) {
  const t = fate.trouble;
  const only = tanks.value.length === 1 ? `tank/${tanks.value[0].id}` : '';
  const where = useSignal(given || only);
  const asks = card.steps.some(({ to }) => to === 'reading' || to === 'check' || to === 'death');
  return html`<p class="heed"><strong>${card.first}</strong></p>
    ${asks && (tanks.value.length === 0 ? html`<p class="soft">${t.noTank}</p>` : html`<div class="field"><label for="where">${t.where}</label>
      <select id="where" value=${where.value} onChange=${(/** @type {any} */ e) => (where.value = e.target.value)}>
        <option value="">${t.choose}</option>${tanks.value.map(({ id }) => html`<option value=${`tank/${id}`} selected=${where.value === `tank/${id}`}>${nameOf(`tank/${id}`)}</option>`)}</select></div>`)}
    <h2>${t.first}</h2>
    <ol class="steps trouble-steps">${card.steps.map((step, i) => html`<li key=${i}><p>${step.say}</p><p class="soft">${t.from(step.from)}</p><${Way} step=${step} where=${where.value} known=${tanks.value.length > 0} /></li>`)}</ol>
    <p>${t.nobody}</p>`;
}

/** @param {{step: Step, where: string, known: boolean}} props */
function Way({ step: { to }, where, known }) {
  if (!to) return null;
  const path = { help: '/shore/help', water: '/tanks/disposal/water', trimmings: '/tanks/disposal/weed', specimen: '/tanks/disposal', reading: where && `/tanks/reading/${where}`, check: where && `/tanks/check/${where}`, death: where && `/tanks/system/${where}` }[to];
  if (!path && !known) return null;
  return path ? html`<p><${Link} class="button" to=${path} data-way=${to}>${fate.trouble.links[to]}<//></p>` : html`<p><button type="button" class="quiet" data-way="where" onClick=${() => document.getElementById('where')?.focus()}>${fate.trouble.links[to]}: ${fate.trouble.choose.toLowerCase()}</button></p>`;
}
