// Choosing a window, and telling friends of those chosen.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { send } from '../parts/send.js';
import { clock, dayName } from '../parts/when.js';
import { today } from './plan-state.js';
import { chosen, clear, isChosen, takenOff, toggle } from './chosen-state.js';
import { message } from './share.js';
import { text } from '../../text/en.js';

/** @param {{shore: import('./shore-state.js').Shore, window: any}} props */
export function ChooseBox({ shore, window: w }) {
  const t = text.chosen;
  const label = t.chooseLabel(dayName(w.day, today.value), clock(w.usableFrom, shore.zone));
  /** @param {any} event */
  const change = (event) => {
    if (toggle(shore, w)) return;
    event.target.checked = false;
    announce(t.most);
    takenOff.value = t.most;
  };
  return html`<label class="pick"><input type="checkbox" aria-label=${label} checked=${isChosen(shore, w)} onChange=${change} />
    <span aria-hidden="true">${t.choose}</span></label>`;
}

/** Stands at the bottom, under the thumb, while anything is chosen. */
export function ChosenBar() {
  const t = text.chosen;
  const says = useSignal('');
  const byHand = useSignal('');
  const list = chosen.value;
  if (list.length === 0 && !takenOff.value) return null;

  const share = async () => {
    const words = message(list);
    byHand.value = '';
    const how = await send(words);
    says.value = how === 'copied' ? t.copied : how === 'neither' ? t.byHand : '';
    if (how === 'neither') byHand.value = words;
    announce(says.value);
  };
  return html`<section class="chosen-bar" aria-labelledby="chosen">
    <h2 class="unseen" id="chosen">${t.title}</h2>
    ${takenOff.value && html`<p class="taken-off">${takenOff.value}</p>`}
    ${list.length > 0 && html`
      ${says.value && html`<p class="soft">${says.value}</p>`}
      ${byHand.value && html`<textarea readonly rows="6" aria-label=${t.byHand} onFocus=${(/** @type {any} */ e) => e.target.select()}>${byHand.value}</textarea>`}
      <div class="chosen-actions">
        <p data-chosen-days>${t.count(list.length)}<span class="unseen">: ${list.map((one) => dayName(one.day, today.value)).join(', ')}</span></p>
        <button type="button" class="quiet" data-do="clear" aria-label=${t.clearLabel} onClick=${clear}>${t.clear}</button>
        <button type="button" class="main" data-do="share" onClick=${share}>${t.share}</button>
      </div>`}
  </section>`;
}
