// The parts of a find's form: how much, who, how it was, seen or taken. Each is large
// enough for a wet thumb and works by keys.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { flagsNamed, kinds } from '../parts/kinds.js';
import { UNITS, stepped } from './amount.js';
import { leaveIt, statesOf } from './find.js';
import { childsPhone, people } from './finds-state.js';
import { later } from '../parts/later.js';
import { text } from '../../text/en.js';

const KindNotes = later(async () => (await import('./takes.js')).KindNotes);

/** @typedef {import('./log-draft.js').Written} Written */
/** @typedef {(change: Partial<Written>) => void} Set */

/** @param {{of: Pick<Written, 'value' | 'unit'>, set: Set, wrong?: string}} props */
export function AmountPick({ of: { value, unit }, set, wrong }) {
  const t = text.log;
  return html`<fieldset class="amount">
    <legend>${t.amount}</legend>
    <div class="amount-stepper">
      <button type="button" data-do="less" aria-label=${t.less} onClick=${() => set({ value: stepped(value, unit, -1) })}>−</button>
      <input id="amount" type="text" inputmode="decimal" autocomplete="off" maxlength="10" aria-label=${t.amount} aria-invalid=${Boolean(wrong)} aria-describedby="amount-wrong"
        value=${value} onInput=${(/** @type {any} */ e) => set({ value: e.target.value })} />
      <button type="button" data-do="more" aria-label=${t.more} onClick=${() => set({ value: stepped(value, unit, 1) })}>+</button>
      <select id="unit" aria-label=${t.unit} value=${unit} onChange=${(/** @type {any} */ e) => set({ unit: e.target.value })}>
        ${UNITS.map((is) => html`<option value=${is}>${text.finds.unitNames[is]}</option>`)}
      </select>
    </div>
    <p id="amount-wrong" class="wrong">${wrong}</p>
  </fieldset>`;
}

/** @param {{by: string | null, choose: (id: string | null) => void}} props */
export function WhoPick({ by, choose }) {
  if (people.value.length === 0) return null;
  return html`<${Choices} name="who" legend=${text.log.who} is=${by ?? ''} choose=${(/** @type {string} */ id) => choose(id || null)}
    options=${people.value.map(({ id, name }) => [id, name])} />`;
}

/** @param {{of: Pick<Written, 'taxon' | 'group' | 'state'>, set: Set}} props */
export function StatePick({ of: { group, state }, set }) {
  return html`<${Choices} name="state" legend=${text.log.state} is=${state} choose=${(/** @type {any} */ is) => set({ state: is })}
    options=${statesOf(group).map((is) => [is, text.finds.states[is]])} />`;
}

/**
 * The group of a kind that is not on the starting list.
 * @param {{of: Pick<Written, 'group'>, set: Set}} props
 */
export function GroupPick({ of: { group }, set }) {
  const t = text.log;
  return html`<div class="field"><label for="group">${t.group}</label>
    <select id="group" value=${group || 'unsure'} onChange=${(/** @type {any} */ e) => set({ group: e.target.value })}>
      <option value="unsure">${t.groupUnsure}</option>
      ${kinds.value?.groups.map(({ id, name }) => html`<option value=${id}>${name}</option>`)}
    </select></div>`;
}

/**
 * What stands at the choice about hands and rules.
 * @param {{of: Pick<Written, 'taxon' | 'group' | 'state'>}} props
 */
export function Heed({ of }) {
  const t = text.log;
  const taxon = flagsNamed(of.taxon);
  const why = leaveIt(of, taxon);
  const hands = taxon?.hurts ? t.hurts : of.group === 'shells' ? t.shells : why === 'unsure' ? t.unknownHurts : '';
  return html`${hands && html`<p class="heed" data-heed="hands"><strong>${hands}</strong></p>`}
    ${why && why !== 'hurts' && html`<p class="heed" data-heed=${why}>${t.leave[why]}</p>`}
    ${(taxon?.hurts || why === 'controlled' || why === 'invasive') && html`<${KindNotes} taxon=${of.taxon} />`}`;
}

/**
 * Seen or taken. What is alive or unknown is seen only, until an adult says otherwise; a
 * child's phone does not offer that.
 * @param {{of: Pick<Written, 'taxon' | 'group' | 'state' | 'fate'>, set: Set}} props
 */
export function FatePick({ of, set }) {
  const t = text.log;
  const asking = useSignal(false);
  const why = leaveIt(of, flagsNamed(of.taxon));
  const free = !why || of.fate === 'taken';
  if (why && childsPhone.value) return html`<p data-fate="seen"><strong>${t.child}</strong></p>`;
  if (free) {
    return html`<${Choices} name="fate" legend=${t.fate} is=${of.fate} choose=${(/** @type {any} */ fate) => set({ fate })} options=${[['seen', t.seen], ['taken', t.taken]]} />`;
  }
  const decide = (/** @type {boolean} */ take) => {
    asking.value = false;
    if (take) set({ fate: 'taken' });
    requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector(take ? 'input[name="fate"]:checked' : '[data-do="anyway"]'))?.focus());
  };
  return html`<fieldset class="choices fate"><legend>${t.fate}</legend>
    <div class="options"><label class="option"><input type="radio" name="fate" value="seen" checked /> ${t.seen}</label>
    ${!asking.value && html`<button type="button" class="quiet" data-do="anyway" onClick=${() => {
      asking.value = true;
      requestAnimationFrame(() => document.getElementById('anyway')?.focus());
    }}>${t.anyway}</button>`}</div>
    ${asking.value && html`<div class="confirm" role="group" aria-labelledby="anyway" onKeyDown=${(/** @type {KeyboardEvent} */ e) => e.key === 'Escape' && decide(false)}>
      <h2 id="anyway" tabindex="-1">${t.anywayAsk}</h2>
      <p>${t.leave[why]}</p>
      <div class="two"><button type="button" data-do="leave" onClick=${() => decide(false)}>${t.anywayLeave}</button>
      <button type="button" class="grave" data-do="decided" onClick=${() => decide(true)}>${t.anywayDo}</button></div>
    </div>`}
  </fieldset>`;
}

/**
 * One of a few, as radio buttons that look like what they are.
 * @param {{name: string, legend: string, is: string, options: [string, string][], choose: (value: string) => void}} props
 */
export function Choices({ name, legend, is, options, choose }) {
  return html`<fieldset class="choices" data-choices=${name}><legend>${legend}</legend>
    <div class="options">${options.map(([value, words]) => html`<label class="option" key=${value}>
      <input type="radio" name=${name} value=${value} checked=${is === value} onChange=${() => choose(value)} /> ${words}</label>`)}</div>
  </fieldset>`;
}
