// A new system: its name, and the tanks that share its water from now on.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Field } from '../parts/field.js';
import { write } from '../../data/book.js';
import { uuidv7 } from '../../data/ids.js';
import { go } from '../route.js';
import { Page } from '../house/page.js';
import { observer } from './check-who.js';
import { may, systemOf, tanks, writeEvent } from './picture-state.js';
import { tanks as text } from '../../text/en-tanks.js';
import { text as all } from '../../text/en.js';

/** As internal/book has it, in characters. */
const MOST_NAME = 80;

export function SystemNew() {
  const t = text.system;
  const name = useSignal('');
  const chosen = useSignal(/** @type {string[]} */ ([]));
  const wrong = useSignal(/** @type {{name?: string, tanks?: string}} */ ({}));
  const says = useSignal('');
  if (!may.value.decide) return html`<${Page} title=${t.new} to="/tanks" back=${text.back}><p>${text.due.child}</p><//>`;
  const save = async (/** @type {Event} */ event) => {
    event.preventDefault();
    const words = name.value.trim();
    wrong.value = {
      name: !words ? text.protocol.needName : Array.from(words).length > MOST_NAME ? all.trip.tooLong(MOST_NAME) : undefined,
      tanks: chosen.value.length === 0 ? t.needTanks : undefined,
    };
    if (wrong.value.name || wrong.value.tanks) {
      announce([wrong.value.name, wrong.value.tanks].filter(Boolean).join(' '));
      return document.getElementById(wrong.value.name ? 'system-name' : 'system-tanks')?.focus();
    }
    const id = uuidv7();
    let kept = await write('system', id, { name: words });
    for (const tank of chosen.value) kept = (await writeEvent('joined', { of: `tank/${tank}`, by: observer.peek(), system: id })).kept && kept;
    if (!kept) return void (says.value = text.unkept);
    go(`/tanks/system/system/${id}`);
  };
  const living = chosen.value.filter((id) => (systemOf(`tank/${id}`)?.state?.residents.length ?? 0) > 0).length;
  return html`<${Page} title=${t.new} to="/tanks" back=${text.back}><form onSubmit=${save} novalidate>
    <p>${t.newWhat}</p>
    <${Field} id="system-name" label=${text.protocol.name} value=${name} mode="text" wrong=${wrong.value.name} />
    <fieldset class="field" aria-describedby="system-tanks"><legend>${t.tanks}</legend>
      ${tanks.value.map((tank) => html`<label class="check" key=${tank.id}><input type="checkbox" value=${tank.id} checked=${chosen.value.includes(tank.id)}
        onChange=${() => (chosen.value = chosen.value.includes(tank.id) ? chosen.value.filter((id) => id !== tank.id) : [...chosen.value, tank.id])} /> <span>${tank.name} <span class="soft">${/** @type {Record<string, string>} */ (t.uses)[tank.use] ?? ''}</span></span></label>`)}
      <p id="system-tanks" class="wrong" tabindex="-1">${wrong.value.tanks}</p></fieldset>
    ${living > 1 && html`<p class="heed">${t.joinBoth(chosen.value.reduce((n, id) => n + (systemOf(`tank/${id}`)?.state?.residents.length ?? 0), 0))}</p>`}
    <p class="wrong" role="alert">${says.value}</p>
    <button type="submit" class="main" data-do="save">${t.newDo}</button>
  </form><//>`;
}
