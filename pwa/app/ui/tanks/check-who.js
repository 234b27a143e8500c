// Who looks. Only a day that an adult of the household has seen counts, so a check needs a
// name: whose phone it is, or who was chosen last, or the only adult there is.

import { computed, signal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { me } from '../../data/door.js';
import { get, put } from '../../data/db.js';
import { owner } from '../shore/outing-state.js';
import { members } from './picture-state.js';
import { tanks as text } from '../../text/en-tanks.js';

const chosen = signal(/** @type {string | undefined} */ (undefined));
get('choices', 'observer').then((id) => (chosen.value ??= id));

/** @param {string} id of a member; '' for nobody named */
function choose(id) {
  chosen.value = id;
  put('choices', 'observer', id);
}

/** Whether this is a child's phone. */
export const isChild = computed(() => me.value?.device.role === 'child');

/** Who may be named here. On a child's phone an adult's name would count as an adult's word: it names children alone. */
export const people = computed(() => members.value.filter(({ age }) => !isChild.value || age === 'child').sort((a, b) => String(a.name).localeCompare(String(b.name))));

/** Who looks, unless the person says otherwise; null where nobody knows. */
export const observer = computed(() => {
  const known = (/** @type {string | null | undefined} */ id) => people.value.some((one) => one.id === id);
  if (chosen.value === '') return null;
  if (known(chosen.value)) return /** @type {string} */ (chosen.value);
  if (known(owner.value)) return owner.value;
  const adults = people.value.filter(({ age }) => age === 'adult');
  const [only, ...others] = isChild.value ? people.value : adults;
  return only && others.length === 0 ? only.id : null;
});

/** Whether a look noted now makes a quiet day. */
export const adultLooks = computed(() => members.value.some(({ id, age }) => id === observer.value && age === 'adult'));

/** The choice itself, and what follows from it. */
export function WhoLooks() {
  const t = text.who;
  if (people.value.length === 0) return html`<p class="heed" data-who="none">${t.noMembers} ${!isChild.value && html`<${Link} to="/house/members">${t.toMembers}<//>`}</p>`;
  const now = observer.value ?? '';
  return html`<div class="field who-looks" data-who=${now ? (adultLooks.value ? 'adult' : 'child') : 'nobody'}>
    <label for="who-looks">${t.legend}</label>
    <select id="who-looks" onChange=${(/** @type {any} */ e) => choose(e.target.value)}>
      <option value="" selected=${!now}>${t.nobody}</option>
      ${people.value.map(({ id, name }) => html`<option key=${id} value=${id} selected=${id === now}>${name}</option>`)}
    </select>
    ${!adultLooks.value && html`<p class="soft">${now ? t.child : t.needAdult}</p>`}
  </div>`;
}
