// On the way out, and back: the message to the one ashore, and the count that ends it.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { announce } from '../parts/announce.js';
import { later } from '../parts/later.js';
import { send } from '../parts/send.js';
import { clockAt } from './clocks.js';
import { Count, Missing } from './heads-page.js';
import { spot } from './now-state.js';
import { countHeads, endOuting, outings, underWay } from './outing-state.js';
import { Panel } from './panel.js';
import { SettleLink } from './settle-link.js';
import { text } from '../../text/en.js';

/** @typedef {import('./outing.js').Outing} Outing */

const Carry = later(async () => (await import('./carry.js')).Carry);

export function BackPage() {
  const t = text.staff.back;
  // The outing that this page ended stays on it.
  const ended = useSignal('');
  const count = useSignal(/** @type {number | undefined} */ (undefined));
  const outing = ended.value ? outings.value.find(({ id }) => id === ended.value) : underWay.value;
  if (!outing) return html`<${Panel} name="back" title=${t.title}><p>${text.staff.start.gone}</p><//>`;
  const party = outing.party.length;
  const end = async (/** @type {number} */ n) => {
    await countHeads(outing.id, n);
    count.value = n;
    if (n < party) return;
    ended.value = outing.id;
    await endOuting(outing.id);
    announce(t.ended);
  };
  return html`<${Panel} name="back" title=${ended.value ? t.ended : t.title}>
    <p class="heed">${t.alerts}</p>
    <p>${outing.ashore ? t.ashore(outing.ashore.who, clockAt(Date.parse(outing.ashore.dueBack))) : t.noAshore}</p>
    ${ended.value ? html`<${Tell} key="back" name="tell-back" main words=${() => t.messageBack(nameOf(), clockAt(outing.endedMs ?? Date.now()), count.value ?? party)} says=${t.tell} />
      <${SettleLink} of=${outing.id} />
      <${Link} class="button" to="/shore">${t.done}<//>`
    : html`
      <section class="way-out"><h2>${t.wayOut}</h2><p class="soft">${t.wayOutHint}</p>
        <${Tell} key="out" name="tell-out" words=${() => t.messageOut(nameOf(), clockAt(Date.now()), outing.ashore ? clockAt(Date.parse(outing.ashore.dueBack)) : '')} says=${t.tell} /></section>
      <section class="all-back"><h2>${t.all}</h2><p class="soft">${t.allHint}</p>
        ${count.value !== undefined && count.value < party ? html`<p class="heed">${t.endShort}</p><${Missing} n=${party - count.value} again=${() => (count.value = undefined)} />`
        : html`<${Count} outing=${outing} says=${(/** @type {number} */ n) => (n >= party ? t.end : text.staff.heads.save(n))} act=${end} />`}</section>`}
    <${Carry} of=${outing.id} />
  <//>`;
}

const nameOf = () => spot.peek()?.name ?? '';

/**
 * A message to hand over.
 * @param {{name: string, words: () => string, says: string, main?: boolean}} props
 */
function Tell({ name, words, says, main }) {
  const t = text.staff.back;
  const how = useSignal('');
  const byHand = useSignal('');
  const act = async () => {
    const message = words();
    const done = await send(message);
    how.value = done === 'shared' ? t.sent : done === 'copied' ? t.copied : done === 'neither' ? t.byHand : '';
    byHand.value = done === 'neither' ? message : '';
    announce(how.value);
  };
  return html`<button type="button" class=${main ? 'main' : ''} data-do=${name} onClick=${act}>${says}</button>
    <p class="soft">${how.value || t.noSignal}</p>
    ${byHand.value && html`<textarea readonly rows="5" aria-label=${t.byHand} onFocus=${(/** @type {any} */ e) => e.target.select()}>${byHand.value}</textarea>`}`;
}
