// The kinds that are offered at a find: the starting list by group, and the household's own.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { kinds, ownKinds, recallKinds, search } from '../parts/kinds.js';
import { Page } from './page.js';
import { text } from '../../text/en.js';

/** @typedef {import('../../data/kinds.js').Taxon} Taxon */

export function KindsPage() {
  const t = text.kinds;
  const typed = useSignal('');
  useEffect(() => void recallKinds(), []);
  const list = kinds.value;
  const hits = typed.value.trim() ? search(typed.value, [...ownKinds.value, ...(list?.taxa ?? [])]) : undefined;
  return html`<${Page} title=${t.title}>
    <p>${t.what}</p>
    <div class="field"><label for="search">${t.search}</label><input id="search" type="search" autocomplete="off" value=${typed.value} onInput=${(/** @type {any} */ e) => (typed.value = e.target.value)} /></div>
    ${hits ? html`<p role="status">${hits.length === 0 ? t.none : t.shown(hits.length)}</p><${Kinds} list=${hits} />`
      : html`<section class="own-kinds" aria-labelledby="own"><h2 id="own">${t.own}</h2>${ownKinds.value.length === 0 ? html`<p>${t.ownNone}</p>` : html`<${Kinds} list=${ownKinds.value} />`}</section>
        ${list ? list.groups.map(({ id, name }) => html`<details key=${id} data-group=${id}><summary>${name}</summary><${Kinds} list=${list.taxa.filter((taxon) => taxon.group === id)} /></details>`) : html`<p>${t.notYet}</p>`}`}
  <//>`;
}

/** @param {{list: Taxon[]}} props */
function Kinds({ list }) {
  const t = text.kinds;
  const regions = (/** @type {string[]} */ codes) => codes.map((code) => kinds.value?.regions[code] ?? code).join(', ');
  return html`<ul class="entries kind-list">${list.map((taxon) => html`<li key=${taxon.name} data-taxon=${taxon.name}><p>
    <strong>${taxon.common ? taxon.common[0].toUpperCase() + taxon.common.slice(1) : taxon.name}</strong> ${taxon.common && html`<em>${taxon.name}</em>`}
    ${taxon.regions.length > 0 && html`<span class="soft">${t.met(regions(taxon.regions))}</span>`}
    ${taxon.hurts && html`<span class="wrong">${t.hurts}</span>`}
    ${taxon.controlled && html`<span class="wrong">${t.controlled}</span>`}
    ${Boolean(taxon.invasive?.length) && html`<span class="wrong">${t.invasive(regions(taxon.invasive ?? []))}</span>`}</p></li>`)}</ul>`;
}
