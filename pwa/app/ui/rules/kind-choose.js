// Choosing a kind by its name: from the list, the household's own, or as typed.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { called, kinds, ownKinds, search, taxonNamed } from '../parts/kinds.js';
import { kindWords } from './says-list.js';
import { TextIn } from './inputs.js';
import { rules } from '../../text/en-rules.js';

/** As internal/book has it, in characters. */
const MOST_NAME = 120;
const MOST_FOUND = 6;

/**
 * @param {{id: string, label: string, hint: string, choose: (taxon: string, group: string) => void, wrong?: string}} props
 *   choose: the group is '' for a name that is on no list
 */
export function KindChoose({ id, label, hint, choose, wrong }) {
  const typed = useSignal('');
  const name = typed.value.trim().slice(0, MOST_NAME);
  const hits = name ? search(name, [...ownKinds.value, ...(kinds.value?.taxa ?? [])]).slice(0, MOST_FOUND) : [];
  const exact = hits.some((one) => one.name.toLowerCase() === name.toLowerCase());
  const pick = (/** @type {string} */ taxon, /** @type {string} */ group) => {
    choose(taxon, group);
    typed.value = '';
    announce(`${rules.try_.chosen}: ${kindWords(taxon)}`);
    document.getElementById(id)?.focus();
  };
  return html`<div class="kind-choose">
    <${TextIn} id=${id} label=${label} hint=${hint} type="search" most=${MOST_NAME} value=${typed.value} set=${(/** @type {string} */ is) => (typed.value = is)} wrong=${wrong} />
    ${name && html`<ul class="kind-hits" data-hits=${id}>
      ${hits.map((one) => html`<li key=${one.name}><button type="button" data-taxon=${one.name} onClick=${() => pick(one.name, one.group)}><strong>${called(one.name)}</strong>${taxonNamed(one.name)?.common && html` <em class="soft">${one.name}</em>`}</button></li>`)}
      ${!exact && html`<li><button type="button" data-do="as-typed" onClick=${() => pick(name, '')}>${rules.try_.asTyped(name)}</button></li>`}
    </ul>`}
  </div>`;
}
