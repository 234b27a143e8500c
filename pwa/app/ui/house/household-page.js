// The household itself: its name and country, the numbers it calls, what holds for outings.
// Keepers write it, everyone reads it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Field } from '../parts/field.js';
import { recallKinds } from '../parts/kinds.js';
import { ready } from '../../data/book.js';
import { household, setHousehold } from '../../data/household.js';
import { uuidv7 } from '../../data/ids.js';
import { HomeForm } from './home-form.js';
import { mayEdit } from './members-page.js';
import { Page } from './page.js';
import { text } from '../../text/en.js';

/** As internal/book has them, in characters and minutes. */
const MOST = { name: 80, what: 80, number: 40, graceMin: 240 };

export function HouseholdPage() {
  const t = text.household;
  const read = useSignal(false);
  useEffect(() => {
    ready('household').then(() => (read.value = true));
    recallKinds();
  }, []);
  return html`<${Page} title=${t.title}>${!read.value ? null : mayEdit() ? html`<${Numbers} edit=${true} /><${Form} /><${HomeForm} edit=${true} />` : html`<${Numbers} edit=${false} /><${Facts} /><${HomeForm} edit=${false} />`}<//>`;
}

function Facts() {
  const t = text.household;
  const { name, country, graceMin, childrenAtNight: may } = household.value;
  return html`<dl class="facts">
    ${name && html`<dt>${t.name}</dt><dd>${name}</dd>`}
    <dt>${t.country}</dt><dd>${country || t.unsaid}</dd>
    <dt>${t.grace}</dt><dd>${graceMin}</dd>
    <dt>${t.night}</dt><dd>${may === undefined ? t.nightAnswers.unsaid : may ? t.nightAnswers.yes : t.nightAnswers.no}</dd>
  </dl><p class="soft">${t.others}</p>`;
}

/** @param {{edit: boolean}} props */
function Numbers({ edit }) {
  const t = text.household;
  const what = useSignal('');
  const number = useSignal('');
  const wrong = useSignal(/** @type {{what?: string, number?: string}} */ ({}));
  /** @param {Event} event */
  const add = async (event) => {
    event.preventDefault();
    const [who, digits] = [what.value.trim(), number.value.trim()];
    wrong.value = {
      what: !who ? t.needWhat : Array.from(who).length > MOST.what ? text.trip.tooLong(MOST.what) : undefined,
      number: isNumber(digits) ? undefined : t.needNumber,
    };
    if (wrong.value.what || wrong.value.number) {
      announce([wrong.value.what, wrong.value.number].filter(Boolean).join(' '));
      return document.getElementById(wrong.value.what ? 'what' : 'number')?.focus();
    }
    const kept = await setHousehold({ [`emergency/${uuidv7()}`]: { what: who, number: digits } });
    announce(kept ? `${who}: ${digits}` : text.trip.unkept);
    what.value = number.value = '';
    document.getElementById('what')?.focus();
  };
  return html`<section class="numbers-of" aria-labelledby="numbers"><h2 id="numbers">${t.numbers}</h2>
    <p class="soft">${t.numbersHint}</p>
    ${household.value.numbers.length === 0 && html`<p>${t.noNumbers}</p>`}
    <ul class="entries">${household.value.numbers.map((one) => html`<li key=${one.id} data-number=${one.number}>
      <p><strong>${one.number}</strong> <span class="soft">${one.what}</span></p>
      ${edit && html`<button type="button" aria-label=${text.trip.takeOff(one.what)} onClick=${() => setHousehold({ [`emergency/${one.id}`]: null })}>${text.trip.off}</button>`}
    </li>`)}</ul>
    ${edit && html`<form onSubmit=${add} novalidate data-form="number">
      <${Field} id="what" label=${t.what} value=${what} mode="text" wrong=${wrong.value.what} />
      <div class="field"><label for="number">${t.number}</label>
        <input id="number" type="text" inputmode="tel" autocomplete="off" value=${number.value} onInput=${(/** @type {any} */ e) => (number.value = e.target.value)} aria-invalid=${Boolean(wrong.value.number)} aria-describedby="number-wrong" />
        <p id="number-wrong" class="wrong">${wrong.value.number}</p></div>
      <button type="submit" class="quiet" data-do="add-number">${t.add}</button>
    </form>`}
  </section>`;
}

/**
 * Whether a phone can dial it: digits, with what stands between them on paper.
 * @param {string} written
 */
export const isNumber = (written) => written.length <= MOST.number && /^[+*#]?\d[\d\s().*#/-]*$/.test(written) && written.replace(/\D/g, '').length >= 2;

function Form() {
  const t = text.household;
  const at = household.peek();
  const name = useSignal(at.name);
  const country = useSignal(at.country);
  const grace = useSignal(String(at.graceMin));
  const night = useSignal(at.childrenAtNight === undefined ? 'unsaid' : at.childrenAtNight ? 'yes' : 'no');
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const says = useSignal('');
  /** @param {Event} event */
  const save = async (event) => {
    event.preventDefault();
    /** @type {Record<string, string>} */
    const list = {};
    if (Array.from(name.value.trim()).length > MOST.name) list.name = text.trip.tooLong(MOST.name);
    const letters = country.value.trim().toUpperCase();
    if (letters && !/^[A-Z]{2}$/.test(letters)) list.country = t.needCountry;
    const minutes = Number(grace.value.trim());
    if (!/^\d{1,3}$/.test(grace.value.trim()) || minutes > MOST.graceMin) list.grace = t.needGrace;
    wrong.value = list;
    says.value = '';
    if (Object.keys(list).length > 0) {
      announce(Object.values(list).join(' '));
      return void requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector('form [aria-invalid="true"]'))?.focus());
    }
    const now = household.peek();
    /** @type {Record<string, any>} */
    const fields = {};
    if (name.value.trim() !== now.name) fields.name = name.value.trim();
    if (letters !== now.country) fields.country = letters;
    if (minutes !== now.graceMin) fields.graceMin = minutes;
    if (night.value !== 'unsaid' && (night.value === 'yes') !== now.childrenAtNight) fields.childrenAtNight = night.value === 'yes';
    says.value = (await setHousehold(fields)) ? t.saved : text.trip.unkept;
    announce(says.value);
  };
  return html`<form onSubmit=${save} novalidate data-form="household">
    <${Field} id="name" label=${t.name} value=${name} mode="text" wrong=${wrong.value.name} />
    <${Field} id="country" label=${t.country} hint=${t.countryHint} value=${country} mode="text" wrong=${wrong.value.country} />
    <${Field} id="grace" label=${t.grace} hint=${t.graceHint} value=${grace} mode="numeric" wrong=${wrong.value.grace} />
    <fieldset class="field"><legend>${t.night}</legend>
      ${Object.entries(t.nightAnswers).filter(([is]) => is !== 'unsaid' || household.value.childrenAtNight === undefined).map(([is, words]) => html`<label class="check"><input type="radio" name="night" value=${is} checked=${night.value === is}
        onChange=${() => (night.value = is)} /> ${words}</label>`)}
    </fieldset>
    <p class="soft" data-says>${says.value}</p>
    <button type="submit" class="main" data-do="keep">${t.save}</button>
  </form>`;
}
