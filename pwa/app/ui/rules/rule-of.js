// Which kinds a rule is about: groups, kinds by name, states, and what is left out.

import { html } from '../parts/html.js';
import { KindChoose } from './kind-choose.js';
import { Radios, Tick } from './inputs.js';
import { kindWords } from './says-list.js';
import { words } from '../../text/en-rule-words.js';
import { ruleForm } from '../../text/en-rule-form.js';

/** @typedef {import('./rule-fields.js').RuleWritten} RuleWritten */
/** @typedef {Pick<RuleWritten, 'of'>} Of */

/** @param {{w: Of, set: (change: Of) => void, wrong?: string}} props */
export function OfWhat({ w: { of }, set, wrong }) {
  const t = ruleForm.rule;
  const change = (/** @type {Partial<RuleWritten['of']>} */ some) => set({ of: { ...of, ...some } });
  return html`<${Radios} name="of" legend=${t.of} value=${of.all ? 'all' : of.rest ? 'rest' : 'named'} set=${(/** @type {string} */ is) => change({ all: is === 'all', rest: is === 'rest' })} options=${Object.entries(t.whats)} />
    ${!of.all && html`<${Kinds} of=${of} change=${change} wrong=${wrong} />`}
    <details class="more" open=${of.exceptTaxa.length + of.exceptGroups.length > 0}><summary>${t.except}</summary>
      <${Groups} name="except" legend=${t.groups} is=${of.exceptGroups} set=${(/** @type {string[]} */ exceptGroups) => change({ exceptGroups })} />
      <${Taxa} id="except-search" label=${t.exceptTaxon} is=${of.exceptTaxa} set=${(/** @type {string[]} */ exceptTaxa) => change({ exceptTaxa })} /></details>
    <fieldset class="field"><legend>${t.states}</legend><p class="soft">${t.statesHint}</p><div class="ticks">
      ${Object.entries(words.states).map(([is, name]) => html`<${Tick} key=${is} name=${`state-${is}`} label=${name} checked=${of.states.includes(is)} set=${(/** @type {boolean} */ on) => change({ states: toggled(of.states, is, on) })} />`)}</div></fieldset>`;
}

/**
 * The kinds of a rule, by group and by name.
 * @param {{of: {taxa: string[], groups: string[]}, change: (some: {taxa?: string[], groups?: string[]}) => void, wrong?: string}} props
 */
export function Kinds({ of, change, wrong }) {
  const t = ruleForm.rule;
  return html`<${Taxa} id="kind-search" label=${t.taxon} is=${of.taxa} set=${(/** @type {string[]} */ taxa) => change({ taxa })} wrong=${wrong} />
    <details class="more" open=${of.groups.length > 0} data-groups><summary>${t.groups}</summary><${Groups} name="group" legend=${t.groups} is=${of.groups} set=${(/** @type {string[]} */ groups) => change({ groups })} /></details>`;
}

/** @param {string[]} list @param {string} is @param {boolean} on */
const toggled = (list, is, on) => (on ? [...list, is] : list.filter((one) => one !== is));

/** @param {{name: string, legend: string, is: string[], set: (list: string[]) => void}} props */
function Groups({ name, legend, is, set }) {
  return html`<fieldset class="field"><legend class="unseen">${legend}</legend><div class="ticks">
    ${Object.entries(words.groups).map(([group, label]) => html`<${Tick} key=${group} name=${`${name}-${group}`} label=${label} checked=${is.includes(group)} set=${(/** @type {boolean} */ on) => set(toggled(is, group, on))} />`)}</div></fieldset>`;
}

/** @param {{id: string, label: string, is: string[], set: (list: string[]) => void, wrong?: string}} props */
function Taxa({ id, label, is, set, wrong }) {
  const t = ruleForm.rule;
  return html`<${KindChoose} id=${id} label=${label} hint=${t.taxonHint} choose=${(/** @type {string} */ taxon) => !is.includes(taxon) && set([...is, taxon])} wrong=${wrong} />
    ${is.length > 0 && html`<ul class="chosen-kinds" data-chosen-of=${id} aria-label=${t.chosen}>${is.map((taxon) => html`<li key=${taxon}><span>${kindWords(taxon)}</span>
      <button type="button" aria-label=${t.remove(kindWords(taxon))} onClick=${() => set(is.filter((one) => one !== taxon))}>✕</button></li>`)}</ul>`}`;
}
