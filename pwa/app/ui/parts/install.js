// The words that lead to an installed app, before there is anything to lose. Some browsers
// offer a prompt, some leave it to the person.

import { signal } from '@preact/signals';
import { html } from './html.js';
import { text } from '../../text/en.js';

/** @typedef {Event & {prompt(): Promise<unknown>}} InstallPrompt */

const offered = signal(/** @type {InstallPrompt | undefined} */ (undefined));

/** Whether this is the app on the home screen, or is about to be. */
export const installed = signal(isInstalled());

addEventListener('beforeinstallprompt', (event) => {
  event.preventDefault(); // it stands in the page instead
  offered.value = /** @type {InstallPrompt} */ (event);
});
addEventListener('appinstalled', () => (installed.value = true));

function isInstalled() {
  const phone = /** @type {{standalone?: boolean}} */ (navigator); // Safari's own word
  return Boolean(phone.standalone) || (globalThis.matchMedia?.('(display-mode: standalone)').matches ?? false);
}

/** @param {{first?: boolean}} props first: nothing is saved yet */
export function Install({ first }) {
  if (installed.value) return null;
  const t = text.install;
  const ask = () => {
    offered.peek()?.prompt();
    offered.value = undefined; // a prompt is good for once
  };
  return html`<section class="install" aria-labelledby="install">
    <h2 id="install">${t.title}</h2>
    <p>${t.why} ${first && t.first}</p>
    ${offered.value ? html`<button type="button" class="quiet" onClick=${ask}>${t.prompt}</button>` : html`<p>${t.share}</p>`}
  </section>`;
}
