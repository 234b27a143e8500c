// The head count: each of the party a number to touch, or one number for a party that
// nobody wrote down. A short count says at once what to do.

import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { announce } from '../parts/announce.js';
import { Outcome } from './outcome.js';
import { countHeads, members, underWay } from './outing-state.js';
import { Panel } from './panel.js';
import { Stepper } from './stepper.js';
import { text } from '../../text/en.js';

/** @typedef {import('./outing.js').Outing} Outing */

export function HeadsPage() {
  const t = text.staff.heads;
  const outing = underWay.value;
  const kept = useSignal(/** @type {number | undefined} */ (undefined));
  if (!outing) return html`<${Panel} name="heads" title=${t.title}><p>${text.staff.start.gone}</p><//>`;
  const save = async (/** @type {number} */ count) => {
    await countHeads(outing.id, count);
    kept.value = count;
    announce(count < outing.party.length ? t.short(outing.party.length - count) : t.all);
  };
  return html`<${Panel} name="heads" title=${t.title}>
    ${kept.value === undefined ? html`<${Count} outing=${outing} says=${t.save} act=${save} />` : html`<${Result} outing=${outing} count=${kept.value} again=${() => (kept.value = undefined)} />`}
  <//>`;
}

/**
 * The party to touch, and the button under it.
 * @param {{outing: Outing, says: (n: number) => string, act: (count: number) => void}} props
 */
export function Count({ outing, says, act }) {
  const t = text.staff.heads;
  const seen = useSignal(/** @type {string[]} */ ([]));
  const number = useSignal(outing.heads[outing.heads.length - 1]?.count ?? 1);
  const named = outing.party.length > 0;
  const count = named ? seen.value.length : number.value;
  const toggle = (/** @type {string} */ id) => (seen.value = seen.value.includes(id) ? seen.value.filter((one) => one !== id) : [...seen.value, id]);
  return html`<p>${named ? `${t.party(outing.party.length)} ${t.tap}` : t.unknownParty}</p>
    ${named ? html`<ul class="heads">${outing.party.map((person, i) => html`<li><button type="button" class="head" data-head=${person.number ?? ''} aria-pressed=${seen.value.includes(person.id)}
        onClick=${() => toggle(person.id)}>${person.number !== undefined && html`<b>${person.number}</b>`} <span>${nameOf(person, i)}</span>
        <span class="tick" aria-hidden="true">${seen.value.includes(person.id) ? '✓' : ''}</span></button></li>`)}</ul>
      <p class="sum" aria-live="polite" data-sum>${t.sum(count, outing.party.length)}</p>`
    : html`<${Stepper} id="count" label=${t.counted} fewer=${t.fewer} more=${t.more} value=${count} set=${(/** @type {number} */ n) => (number.value = n)} />`}
    <div class="under-thumb"><button type="button" class="main" data-do="count" onClick=${() => act(count)}>${says(count)}</button></div>`;
}

/**
 * @param {import('./outing.js').Person} person
 * @param {number} i in the party; adults come first
 */
function nameOf({ id, name, as, number }, i) {
  const t = text.staff.heads;
  return members.value.find((one) => one.id === id)?.name || name || (as === 'adult' ? t.adult(i + 1) : number === undefined ? t.you : '');
}

/** @param {{outing: Outing, count: number, again: () => void}} props */
function Result({ outing, count, again }) {
  const t = text.staff.heads;
  const missing = outing.party.length - count;
  if (missing > 0) return html`<${Missing} n=${missing} again=${again} />`;
  return html`<${Outcome} says=${outing.party.length === 0 ? t.sum(count, count) : missing < 0 ? t.moreThan : t.all} />
    <div class="under-thumb">${missing < 0 && outing.party.length > 0 ? html`<button type="button" class="main" data-do="again" onClick=${again}>${t.again}</button>` : html`<${Link} class="button main" to="/shore">${t.done}<//>`}</div>`;
}

/**
 * Somebody is missing: what to do, at once.
 * @param {{n: number, again: () => void}} props
 */
export function Missing({ n, again }) {
  const t = text.staff.heads;
  const here = useRef(/** @type {any} */ (null));
  useEffect(() => here.current?.focus(), []);
  return html`<section class="missing" role="alert" data-missing=${n}>
    <h2 tabindex="-1" ref=${here}>${t.short(n)}</h2>
    <ol class="points">${t.do.map((line) => html`<li>${line}</li>`)}</ol>
    <${Link} class="button grave" to="/shore/help">${t.help}<//>
  </section>
  <div class="under-thumb"><button type="button" class="main" data-do="again" onClick=${again}>${t.again}</button></div>`;
}
