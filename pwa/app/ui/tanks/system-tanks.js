// Which tanks share this water, and how they come to it and part from it. Joining a tank that
// held something starts the wait anew for both.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { Confirm } from '../house/confirm.js';
import { observer } from './check-who.js';
import { may, nameOf, systemOf, tankOf, tanks, writeEvent } from './picture-state.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @param {{system: NonNullable<ReturnType<typeof systemOf>>}} props */
export function SystemTanks({ system }) {
  const t = text.system;
  const asking = useSignal('');
  const list = system.state?.tanks ?? (system.kind === 'tank' ? [system.id] : []);
  const alone = system.kind === 'tank';
  /** @param {string} what @param {string} tank @param {string} says */
  const note = async (what, tank, says) => {
    const { kept } = await writeEvent(what, { of: `tank/${tank}`, by: observer.peek(), system: system.id });
    asking.value = '';
    announce(kept ? says : text.unkept);
    document.getElementById('its-tanks')?.focus();
  };
  return html`<section aria-labelledby="its-tanks"><h2 id="its-tanks" tabindex="-1">${alone ? t.itsTank : t.tanks}</h2>
    ${list.length === 0 && html`<p class="soft">${t.noTanks}</p>`}
    <ul class="entries">${list.map((id) => html`<li key=${id} data-tank=${id}>
      <p><${Link} class="button" to=${`/tanks/tank/${id}`}>${nameOf(`tank/${id}`) || text.unnamed}<//> <span class="soft">${/** @type {Record<string, string>} */ (t.uses)[tankOf(id)?.use] ?? ''}</span></p>
      ${!alone && may.value.decide && asking.value !== `left ${id}` && html`<button type="button" data-do="leave" aria-label=${text.due.label(t.leave, nameOf(`tank/${id}`))} onClick=${() => (asking.value = `left ${id}`)}>${t.leave}</button>`}
      ${asking.value === `left ${id}` && html`<${Confirm} asks=${t.leaveAsk(nameOf(`tank/${id}`))} says=${t.leaveWhat} does=${t.leaveDo} act=${() => note('left', id, t.left(nameOf(`tank/${id}`)))} leave=${() => (asking.value = '')} />`}
    </li>`)}</ul>
    ${!alone && may.value.decide && html`<${Join} system=${system} asking=${asking} join=${(/** @type {string} */ id) => note('joined', id, t.joined(nameOf(`tank/${id}`)))} />`}
  </section>`;
}

/** @param {{system: NonNullable<ReturnType<typeof systemOf>>, asking: import('@preact/signals').Signal<string>, join: (id: string) => void}} props */
function Join({ system, asking, join }) {
  const t = text.system;
  const tank = useSignal('');
  const others = tanks.value.filter(({ id }) => !system.state?.tanks.includes(id));
  if (others.length === 0) return null;
  const living = systemOf(`tank/${tank.value}`)?.state?.residents.length ?? 0;
  const here = system.state?.residents.length ?? 0;
  return html`<div class="field"><label for="join">${t.join}</label>
      <select id="join" onChange=${(/** @type {any} */ e) => (tank.value = e.target.value)}>
        <option value="" selected=${!tank.value}>${t.joinNone}</option>
        ${others.map(({ id, name }) => html`<option key=${id} value=${id} selected=${id === tank.value}>${name}</option>`)}
      </select></div>
    ${tank.value && (asking.value === 'join'
      ? html`<${Confirm} asks=${t.joinAsk(nameOf(`tank/${tank.value}`), system.name)} says=${living + here > 0 ? t.joinBoth(living + here) : t.joinFresh} does=${t.joinDo} act=${() => {
        join(tank.value);
        tank.value = '';
      }} leave=${() => (asking.value = '')} />`
      : html`<button type="button" data-do="join" onClick=${() => (asking.value = 'join')}>${t.joinDo}</button>`)}
    <p class="soft">${t.joinHint}</p>`;
}
