// Who comes: members ticked, guests added by name, children with a number and somebody to go
// with, one adult who only watches.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { uuidv7 } from '../../data/ids.js';
import { comer, MOST } from './outing-fields.js';
import { members } from './outing-state.js';
import { text } from '../../text/en.js';

/** @typedef {import('./outing-fields.js').Comer} Comer */

/** @param {{party: Comer[], set: (party: Comer[]) => void, wrong: Record<string, string>}} props */
export function PartyForm({ party, set, wrong }) {
  const t = text.trip;
  const here = (/** @type {string} */ id) => party.some((one) => one.id === id);
  const guests = party.filter(({ id }) => !members.value.some((one) => one.id === id));
  /** @param {{id: string, name: string, as: string}} one */
  const toggle = (one) => set(here(one.id) ? leave(party, one.id) : [...party, comer(one, party)]);
  const change = (/** @type {string} */ id, /** @type {Partial<Comer>} */ now) => set(party.map((one) => (one.id === id ? { ...one, ...now } : one)));
  return html`<fieldset class="party">
    <legend><h2>${t.party}</h2></legend>
    <p class="soft">${t.partyHint}</p>
    ${members.value.length === 0 && html`<p>${t.noMembers}</p>`}
    <ul class="comers">
      ${members.value.map((one) => html`<li key=${one.id} data-comer=${one.name}>
        <label class="check"><input type="checkbox" checked=${here(one.id)} onChange=${() => toggle(one)} /> <span>${one.name} <span class="soft">${one.as === 'child' ? t.child : t.adult}</span></span></label>
        ${here(one.id) && html`<${Part} one=${party.find(({ id }) => id === one.id)} party=${party} change=${change} wrong=${wrong} />`}
      </li>`)}
      ${guests.map((one) => html`<li key=${one.id} data-comer=${one.name}>
        <p class="guest"><span>${one.name} <span class="soft">${one.as === 'child' ? t.child : t.adult}</span></span>
          <button type="button" class="quiet" aria-label=${t.takeOff(one.name)} onClick=${() => set(leave(party, one.id))}>${t.off}</button></p>
        <${Part} one=${one} party=${party} change=${change} wrong=${wrong} />
      </li>`)}
    </ul>
    <${GuestForm} add=${(/** @type {{name: string, as: string}} */ guest) => set([...party, comer({ id: uuidv7(), ...guest }, party)])} />
  </fieldset>`;
}

/**
 * Whoever went with them goes with nobody now.
 * @param {Comer[]} party
 * @param {string} id
 */
const leave = (party, id) => party.filter((one) => one.id !== id).map((one) => (one.with === id ? { ...one, with: undefined } : one));

/**
 * What one of the party does; a child's number and somebody.
 * @param {{one: Comer, party: Comer[], change: (id: string, now: Partial<Comer>) => void, wrong: Record<string, string>}} props
 */
function Part({ one, party, change, wrong }) {
  const t = text.trip;
  const number = `number-${one.id}`;
  const heard = (/** @type {any} */ event) => event.target.value;
  if (one.as === 'adult') {
    return html`<label class="choose-one"><span aria-hidden="true">${t.does}</span>
      <select aria-label=${t.of(one.name, t.does)} name="does" onChange=${(/** @type {any} */ e) => change(one.id, { does: heard(e) })}>
        ${Object.entries(t.doing).map(([key, words]) => html`<option value=${key} selected=${key === one.does}>${words}</option>`)}
      </select></label>`;
  }
  return html`<div class="child-row">
    <label class="choose-one"><span aria-hidden="true">${t.number}</span>
      <input type="text" inputmode="numeric" autocomplete="off" name="number" id=${number} aria-label=${t.of(one.name, t.number)} value=${one.number}
        aria-invalid=${Boolean(wrong[number])} aria-describedby=${number + '-wrong'} onInput=${(/** @type {any} */ e) => change(one.id, { number: heard(e) })} /></label>
    <label class="choose-one"><span aria-hidden="true">${t.with}</span>
      <select aria-label=${t.of(one.name, t.with)} name="with" onChange=${(/** @type {any} */ e) => change(one.id, { with: heard(e) || undefined })}>
        <option value="" selected=${!one.with}>${t.nobody}</option>
        ${party.filter(({ id }) => id !== one.id).map(({ id, name }) => html`<option value=${id} selected=${id === one.with}>${name}</option>`)}
      </select></label>
    <p id=${number + '-wrong'} class="wrong">${wrong[number]}</p>
  </div>`;
}

/** @param {{add: (guest: {name: string, as: string}) => void}} props */
function GuestForm({ add }) {
  const t = text.trip;
  const name = useSignal('');
  const as = useSignal('child');
  const says = useSignal('');
  const take = () => {
    const whose = name.value.trim();
    says.value = !whose ? t.needGuest : Array.from(whose).length > MOST.name ? t.tooLong(MOST.name) : '';
    if (says.value) return announce(says.value), document.getElementById('guest')?.focus();
    add({ name: whose, as: as.value });
    name.value = '';
  };
  // Enter adds the guest and does not keep the whole plan.
  const key = (/** @type {KeyboardEvent} */ event) => {
    if (event.key !== 'Enter') return;
    event.preventDefault();
    take();
  };
  return html`<details class="guest-form"><summary>${t.guest}</summary>
    <div class="field"><label for="guest">${t.guestName}</label>
      <input id="guest" type="text" autocomplete="off" value=${name.value} onKeyDown=${key} onInput=${(/** @type {any} */ e) => (name.value = e.target.value)} aria-invalid=${Boolean(says.value)} aria-describedby="guest-wrong" />
      <p id="guest-wrong" class="wrong">${says.value}</p></div>
    <div class="add-row"><label class="choose-one"><span>${t.guestAs}</span>
      <select id="guest-as" onChange=${(/** @type {any} */ e) => (as.value = e.target.value)}>
        ${['child', 'adult'].map((is) => html`<option value=${is} selected=${is === as.value}>${is === 'child' ? t.child : t.adult}</option>`)}
      </select></label>
      <button type="button" data-do="guest" onClick=${take}>${t.addGuest}</button></div>
  </details>`;
}
