// Which devices may come in, and shutting one out. Keepers only; the list is the server's.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { ApiError } from '../../data/api.js';
import { devices, me, shutOut } from '../../data/door.js';
import { Confirm } from './confirm.js';
import { here } from './here.js';
import { Page } from './page.js';
import { text } from '../../text/en.js';

/** @typedef {import('../../data/door.js').Device} Device */

export function DevicesPage() {
  const t = text.devices;
  const list = useSignal(/** @type {Device[] | undefined} */ (undefined));
  const wrong = useSignal('');
  const asking = useSignal('');
  const wrongOut = useSignal('');
  const words = (/** @type {unknown} */ error) => (error instanceof ApiError ? error.message : t.noSignal);

  const ask = async () => {
    wrong.value = '';
    try {
      list.value = sorted(await devices());
    } catch (error) {
      wrong.value = words(error);
    }
  };
  useEffect(() => void ask(), []);

  /** @param {Device} device */
  const out = async (device) => {
    try {
      list.value = sorted(await shutOut(device.id));
    } catch (error) {
      return void (wrongOut.value = words(error));
    }
    leave(t.done(device.name));
  };
  /** @param {string} [says] */
  const leave = (says) => {
    const id = asking.value;
    asking.value = '';
    wrongOut.value = '';
    if (says) announce(says);
    requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector(`[data-device="${id}"] button`) ?? document.getElementById('page'))?.focus());
  };

  const own = me.value?.device.id;
  return html`<${Page} title=${t.title}>
    ${wrong.value ? html`<div class="heed"><p role="alert">${wrong.value}</p><p><button type="button" class="quiet" onClick=${ask}>${t.again}</button></p></div>` : !list.value && html`<p>${t.coming}</p>`}
    <ul class="entries devices">${list.value?.map((device) => html`<li key=${device.id} data-device=${device.id} data-out=${Boolean(device.shutOutMs)}>
      <p><strong>${device.name}</strong> · ${text.who.role(device.role)}${device.id === own && html` · <em>${t.thisOne}</em>`}
        <span class="soft">${t.joined(here(device.createdMs))}</span>
        <span class="soft">${t.seen(here(device.seenMs))}</span>
        ${device.shutOutMs && html`<strong class="wrong">${t.out(here(device.shutOutMs))}</strong>`}</p>
      ${!device.shutOutMs && (asking.value === device.id
        ? html`<${Confirm} asks=${t.ask(device.name)} says=${(device.id === own ? t.own + ' ' : '') + t.what} does=${t.do} act=${() => out(device)} leave=${() => leave()} wrong=${wrongOut.value} />`
        : html`<button type="button" data-do="shut-out" aria-label=${t.shutOutLabel(device.name)} onClick=${() => { asking.value = device.id; wrongOut.value = ''; }}>${t.shutOut}</button>`)}
    </li>`)}</ul>
  <//>`;
}

/**
 * Those that come in first, the one seen last on top.
 * @param {Device[]} list
 */
const sorted = (list) => [...list].sort((a, b) => Number(Boolean(a.shutOutMs)) - Number(Boolean(b.shutOutMs)) || b.seenMs - a.seenMs);
