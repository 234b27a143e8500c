// "Which share of a patch is that?": an estimate from counts or paces, by the core.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { call, notRunning } from '../../core.js';
import { Radios, TextIn } from './inputs.js';
import { shareAsk } from './share-fields.js';
import { shareHelp as t } from '../../text/en-rule-form.js';

/** @type {Record<string, ('counted' | 'taking' | 'side' | 'counts' | 'long' | 'wide' | 'pace' | 'partLong' | 'partWide')[]>} */
const fields = { counts: ['counted', 'taking'], squares: ['side', 'counts', 'long', 'wide', 'pace', 'taking'], paces: ['long', 'wide', 'partLong', 'partWide'] };

export function ShareHelp() {
  const how = useSignal('counts');
  const w = useSignal(/** @type {Record<string, string>} */ ({}));
  const says = useSignal('');
  const wrong = useSignal('');
  const reckon = async () => {
    says.value = wrong.value = '';
    const request = shareAsk(how.peek(), w.peek());
    if (!request) return void announce((wrong.value = t.needNumbers));
    try {
      says.value = (await call('share', request)).text;
      announce(says.value);
    } catch (error) {
      announce((wrong.value = notRunning(error) ? t.notReckoned : /** @type {any} */ (error).message));
    }
  };
  // A form in the form would not do: Enter reckons here, and does not send what is around.
  const key = (/** @type {KeyboardEvent} */ event) => {
    if (event.key !== 'Enter' || !(event.target instanceof HTMLInputElement)) return;
    event.preventDefault();
    reckon();
  };
  return html`<details class="more" data-share-help><summary>${t.title}</summary><div class="answer" onKeyDown=${key}>
    <p>${t.why}</p>
    <${Radios} name="share-how" legend=${t.how} value=${how.value} set=${(/** @type {string} */ is) => (how.value = is)} options=${Object.entries(t.hows)} />
    <div class="pair">${fields[how.value].map((field) => html`<${TextIn} key=${field} id=${`share-${field}`} label=${t[field]} mode=${field === 'counts' ? 'text' : 'decimal'} value=${w.value[field] ?? ''}
      set=${(/** @type {string} */ is) => (w.value = { ...w.peek(), [field]: is })} />`)}</div>
    <p class="wrong" data-share-wrong>${wrong.value}</p>
    <p data-share>${says.value && html`<strong>${says.value}</strong>`}</p>
    <button type="button" data-do="share" onClick=${reckon}>${t.reckon}</button></div></details>`;
}
