// What this phone does on the shore: stays awake, sounds, dims.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { underWay } from './outing-state.js';
import { awake, dim, setPhone } from './phone-state.js';
import { ring, sound, wakeSound } from './warn.js';
import { wake } from './wake.js';
import { text } from '../../text/en.js';

export function PhonePanel() {
  const t = text.staff.phone;
  const tried = useSignal(false);
  const test = async () => {
    await wakeSound();
    ring();
    tried.value = true;
  };
  return html`<section class="phone" aria-labelledby="phone">
    <h2 id="phone">${t.title}</h2>
    ${underWay.value && html`<p class="heed">${t.sleeps}</p>
    <button type="button" data-do="awake" aria-pressed=${awake.value} onClick=${() => setPhone({ awake: !awake.value })}>${t.awake}</button>
    <p class=${wake.value === 'on' || wake.value === 'off' ? 'soft' : 'stale'} data-wake=${wake.value} role="status">${t.wake[wake.value]}</p>
    <button type="button" data-do="sound" onClick=${test}>${t.sound}</button>
    <p class="soft" data-sound=${sound.value} role="status">${sound.value === 'on' && !tried.value ? '' : t.sounds[sound.value]}</p>`}
    <button type="button" data-do="dim" aria-pressed=${Boolean(dim.value)} onClick=${() => setPhone({ dim: !dim.value })}>${t.dim}</button>
    <p class="soft">${t.dimAuto}</p>
  </section>`;
}
