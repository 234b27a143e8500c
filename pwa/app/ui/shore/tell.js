// Telling somebody ashore, through the phone's own sharing or the clipboard.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { send } from '../parts/send.js';
import { text } from '../../text/en.js';

/** @param {{words: string}} props */
export function Tell({ words }) {
  const t = text.tell;
  const says = useSignal('');
  const byHand = useSignal(false);
  const share = async () => {
    const how = await send(words);
    byHand.value = how === 'neither';
    says.value = how === 'copied' ? t.copied : how === 'neither' ? t.byHand : '';
    announce(says.value);
  };
  return html`<section class="tell" aria-labelledby="tell">
    <h2 id="tell">${t.title}</h2>
    <p>${t.why}</p>
    <button type="button" data-do="tell" onClick=${share}>${t.share}</button>
    <p class="soft">${says.value}</p>
    ${byHand.value && html`<textarea readonly rows="10" aria-label=${t.byHand} onFocus=${(/** @type {any} */ e) => e.target.select()}>${words}</textarea>`}
  </section>`;
}
