// Choosing what it is: what was met lately, the list by group, a name as typed, or unsure.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { UNSURE, called, flagsNamed, kinds, ownKinds, search, taxonNamed } from '../parts/kinds.js';
import { text } from '../../text/en.js';

/** As internal/book has it, in characters. */
const MOST_NAME = 120;
const MOST_FOUND = 8;

/** @typedef {import('./recent.js').Kind} Kind */

/** @param {{recent: Kind[], choose: (kind: Kind) => void}} props */
export function KindPick({ recent, choose }) {
  const t = text.log;
  const group = useSignal('');
  const typed = useSignal('');
  const list = kinds.value;
  const name = typed.value.trim().slice(0, MOST_NAME);
  const hits = name ? search(name, [...ownKinds.value, ...(list?.taxa ?? [])]).slice(0, MOST_FOUND) : [];
  const exact = hits.some((one) => [one.name, one.common].some((is) => is.toLowerCase() === name.toLowerCase()));
  const pick = (/** @type {Kind} */ kind) => choose(kind);
  return html`
    ${recent.length > 0 && html`<section aria-labelledby="recent">
      <h2 id="recent">${t.recent}</h2>
      <ul class="kinds" data-list="recent">${recent.map((kind) => html`<li key=${kind.taxon}><${KindButton} kind=${kind} choose=${pick} /></li>`)}</ul>
    </section>`}
    <section aria-labelledby="groups">
      <h2 id="groups">${t.all}</h2>
      <div class="groups">
        ${list?.groups.map(({ id, name: called }) => html`<button type="button" key=${id} data-group=${id} aria-expanded=${group.value === id} onClick=${() => (group.value = group.value === id ? '' : id)}>${called}</button>
          ${group.value === id && html`<ul class="kinds" data-list=${id}>
            ${list.taxa.filter((taxon) => taxon.group === id).map((taxon) => html`<li key=${taxon.name}><${KindButton} kind=${{ taxon: taxon.name, group: id }} choose=${pick} /></li>`)}
            <li><button type="button" class="unsure" data-taxon=${UNSURE} onClick=${() => pick({ taxon: UNSURE, group: id })}>${t.unsureOf(called)}</button></li>
          </ul>`}`)}
        <button type="button" data-do="unsure" onClick=${() => pick({ taxon: UNSURE, group: UNSURE })}>${t.unsure}</button>
      </div>
    </section>
    <div class="field">
      <label for="other">${t.other}</label>
      <p id="other-hint" class="soft">${t.otherHint}</p>
      <input id="other" type="search" autocomplete="off" autocapitalize="none" maxlength=${MOST_NAME} aria-describedby="other-hint" value=${typed.value} onInput=${(/** @type {any} */ e) => (typed.value = e.target.value)} />
      ${name && html`<ul class="kinds" data-list="hits">
        ${hits.map((taxon) => html`<li key=${taxon.name}><${KindButton} kind=${{ taxon: taxon.name, group: taxon.group }} choose=${pick} /></li>`)}
        ${!exact && html`<li><button type="button" data-do="typed" onClick=${() => pick({ taxon: name, group: '' })}>${t.asTyped(name)}</button></li>`}
      </ul>`}
    </div>`;
}

/** @param {{kind: Kind, choose: (kind: Kind) => void}} props */
function KindButton({ kind, choose }) {
  const taxon = taxonNamed(kind.taxon);
  const flags = flagsNamed(kind.taxon);
  return html`<button type="button" data-taxon=${kind.taxon} onClick=${() => choose(kind)}>
    <strong>${called(kind.taxon)}</strong>
    ${taxon && html`<em class="soft">${taxon.name}</em>`}
    ${flags?.hurts && html`<span class="hurts">${text.kinds.hurts}</span>`}
    ${flags?.controlled && html`<span class="hurts">${text.kinds.controlled}</span>`}
    ${Boolean(flags?.invasive?.length) && html`<span class="hurts">${text.kinds.spreads}</span>`}
  </button>`;
}
