// What this phone has not sent, how the exchange stands, and the way around it.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { me } from '../../data/door.js';
import { record } from '../../data/errors.js';
import { CLOCK_OFF_MS, clockOffMs, syncNow, syncState, unsent } from '../../data/sync.js';
import { unsentFile } from '../../data/unsent.js';
import { here } from './here.js';
import { Refused } from './refused.js';
import { text } from '../../text/en.js';

export function Exchange() {
  const t = text.sent;
  const { state, lastMs, why } = syncState.value;
  const out = state === 'shut-out';
  const n = unsent.value;
  const who = me.value?.device.role;
  // A guest's phone sends nothing. The server's own words say more where it asks to wait.
  const reads = who === 'guest' && state === 'resting';
  const says = reads ? (n > 0 ? t.guest : t.guestState) : (state === 'later' || state === 'update') && why ? why : t.state[state];
  return html`<section class="exchange" aria-labelledby="unsent" data-state=${state} data-unsent=${n}>
    <h2 id="unsent">${reads && n === 0 ? t.guestTitle : t.title(n)}</h2>
    ${says && html`<p class=${out ? 'heed' : ''}>${says} ${out && n > 0 && t.shutOutKept} ${out && t.shutOutDo}</p>`}
    ${clockIsOff() && html`<p class="heed" data-clock>${clockIsOff()}</p>`}
    <p class="soft">${lastMs ? t.last(here(lastMs)) : t.never}</p>
    ${out ? html`<${Link} class="button main" to="/pair">${t.joinAgain}<//>`
      : html`<button type="button" class=${n > 0 ? 'main' : 'quiet'} data-do="send" aria-disabled=${state === 'busy'} onClick=${syncNow}>${n > 0 ? t.now : t.nothing}</button>`}
    ${n > 0 && html`<${SaveUnsent} />`}
    <${Refused} />
  </section>`;
}

/** What is wrong with this phone's clock, in words; '' if nothing that matters. */
export function clockIsOff() {
  const off = me.value && clockOffMs.value;
  if (!off || Math.abs(off) <= CLOCK_OFF_MS) return '';
  return text.sent.clock(Math.round(Math.abs(off) / 60_000), off > 0);
}

function SaveUnsent() {
  const t = text.sent;
  const says = useSignal('');
  const save = async () => {
    try {
      hand(await unsentFile(), `wrackbook-unsent-${new Date().toISOString().slice(0, 16).replaceAll(':', '')}.json`);
      says.value = t.saved;
    } catch (error) {
      record(`saving what is not sent: ${error}`);
      says.value = t.notSaved;
    }
    announce(says.value);
  };
  return html`<div class="file">
    <button type="button" data-do="save" onClick=${save}>${t.save}</button>
    <p class="soft">${says.value}</p>
    <p class="soft">${t.saveWhy} <code class="command">${t.saveCommand}</code></p>
    <p class="soft">${t.saveTwice}</p>
  </div>`;
}

const HAND_MS = 60_000;

/**
 * Hands a file to the browser's downloads.
 * @param {Blob} file
 * @param {string} name
 */
function hand(file, name) {
  const url = URL.createObjectURL(file);
  Object.assign(document.createElement('a'), { href: url, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(url), HAND_MS); // some browsers read it late
}
