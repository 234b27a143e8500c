// How another phone reaches the household's server. Where the server has an authority of
// the household's own, each phone must be told once to trust it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { authorityAddress, fingerprint } from '../../data/authority.js';
import { Page } from './page.js';
import { reach } from '../../text/en-reach.js';
import { text } from '../../text/en.js';

export function ReachPage() {
  const t = reach;
  const print = useSignal(/** @type {string | undefined} */ (undefined));
  const state = useSignal(/** @type {'asking' | 'own' | 'other' | 'no-signal'} */ ('asking'));
  useEffect(() => {
    fingerprint().then((found) => {
      print.value = found;
      state.value = found ? 'own' : 'other';
    }, () => (state.value = 'no-signal'));
  }, []);
  return html`<${Page} title=${t.title}><div class="reach" data-reach=${state.value}>
    ${state.value === 'own' ? html`<${Steps} print=${print.value ?? ''} />`
      : state.value === 'other' && location.protocol === 'http:' ? html`<p class="heed">${text.reaching.plain}</p>`
      : html`<p>${text.reaching[state.value](location.origin)}</p>`}
  </div><//>`;
}

/** @param {{print: string}} props */
function Steps({ print }) {
  const t = reach;
  const name = location.hostname;
  return html`
    <p>${t.intro(name)}</p>
    <ol class="steps">
      <li>${t.fetch(authorityAddress())}</li>
      <li>${t.compare}
        <p class="soft">${t.fingerprintLabel}</p><p><code class="command" data-print>${print.split(':').map((byte, i) => html`${i > 0 && ':'}<wbr />${byte}`)}</code></p>
        <p class="soft">${t.fingerprintElsewhere}</p></li>
      <li>${t.trust}
        ${t.devices.map((device) => html`<details><summary>${device.name}</summary>
          <ul class="points">${device.steps(name).map((step) => html`<li>${step}</li>`)}</ul></details>`)}
        <p class="soft">${t.menusDiffer}</p></li>
      <li>${t.last(location.origin)}</li>
    </ol>
    <p class="soft">${t.notFound}</p>`;
}
