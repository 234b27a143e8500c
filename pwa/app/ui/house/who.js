// Who this phone is in its household.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { records, write } from '../../data/book.js';
import { me } from '../../data/door.js';
import { forget } from '../../data/epoch.js';
import { syncNow } from '../../data/sync.js';
import { thisDevice } from '../../data/this-device.js';
import { Confirm } from './confirm.js';
import { text } from '../../text/en.js';

export function Who() {
  const t = text.who;
  const who = me.value;
  if (!who) {
    return html`<section class="who" data-who="alone">
      <p>${t.alone} ${t.aloneDo}</p>
      <${Link} class="button main" to="/pair" data-do="join">${t.join}<//>
    </section>`;
  }
  const { name, role } = who.device;
  return html`<section class="who" data-who=${role}>
    <p class="name"><strong>${name}</strong> · ${t.role(role)}</p>
    <p class="soft">${t.may[role]}</p>
    ${role !== 'guest' && html`<${Mostly} />`}
    ${who.strange && html`<${Strange} />`}
  </section>`;
}

/** Whose phone it mostly is: what is written on it is theirs unless somebody else is named. */
function Mostly() {
  const people = records('member').value.filter(({ deleted }) => !deleted).sort((a, b) => String(a.fields.name).localeCompare(b.fields.name));
  if (people.length === 0 || !thisDevice.value) return null;
  const whose = records('device').value.find(({ id }) => id === thisDevice.value)?.fields.member ?? '';
  /** @param {Event} event */
  const choose = (event) => write('device', thisDevice.value, { member: /** @type {HTMLSelectElement} */ (event.currentTarget).value || null });
  return html`<div class="field">
    <label for="mostly">${text.who.mostly}</label>
    <select id="mostly" value=${whose} onChange=${choose}>
      <option value="">${text.who.nobody}</option>
      ${people.map(({ id, fields }) => html`<option value=${id} selected=${id === whose}>${fields.name}</option>`)}
    </select>
  </div>`;
}

function Strange() {
  const t = text.who;
  const asking = useSignal(false);
  const wrong = useSignal('');
  const act = async () => {
    if (!(await forget())) return void (wrong.value = t.notForgotten);
    announce(t.forgotten);
    document.getElementById('page')?.focus();
    syncNow();
  };
  return html`<p class="heed">${t.strange} ${t.strangeDo}</p>
    ${asking.value
      ? html`<${Confirm} asks=${t.forgetAsk} says=${t.forgetWhat} does=${t.forgetDo} act=${act} leave=${() => (asking.value = false)} wrong=${wrong.value} />`
      : html`<button type="button" class="quiet" data-do="forget" onClick=${() => (asking.value = true)}>${t.forget}</button>`}`;
}
