// Joining a household. The page shows what will happen; only its button redeems the
// invitation, so that whoever previews a link uses nothing up.

import { signal, useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Field } from '../parts/field.js';
import { installed } from '../parts/install.js';
import { Link } from '../parts/link.js';
import { copy } from '../parts/send.js';
import { ApiError, NoSignal } from '../../data/api.js';
import { join, me } from '../../data/door.js';
import { kindOfDevice, readInvitation, slip } from './join-code.js';
import { Page } from './page.js';
import { text } from '../../text/en.js';

const kind = kindOfDevice(navigator.userAgent, navigator.maxTouchPoints);
const isApple = kind === 'iphone' || kind === 'ipad';

// What is written stays while the person looks at another place of the app. A code is a
// key: it goes nowhere that outlives the page.
const code = signal('');
const name = signal(text.join.kinds[kind]);
const fromLink = signal(false);

/** Takes the invitation out of the address, where it would stay in the history. */
function takeFromAddress() {
  if (location.pathname !== '/pair' || location.hash.length < 2) return;
  const given = readInvitation(location.hash);
  history.replaceState(history.state, '', '/pair');
  code.value = given.code;
  if (given.name) name.value = given.name;
  fromLink.value = true;
}

takeFromAddress();
addEventListener('hashchange', takeFromAddress);

export function JoinPage() {
  const t = text.join;
  const who = me.value;
  const done = useSignal(false);
  const joining = useSignal(false);
  const wrong = useSignal(/** @type {{code?: string, name?: string, form?: string}} */ ({}));

  /** @param {typeof wrong.value} list */
  const complain = (list) => {
    wrong.value = list;
    requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector('form [aria-invalid="true"], #form-wrong:not(:empty)'))?.focus());
  };

  /** @param {Event} event */
  const submit = async (event) => {
    event.preventDefault();
    if (joining.value) return;
    const given = readInvitation(code.value);
    const list = { code: wrongCode(given.code), name: name.value.trim() ? undefined : t.needName };
    if (list.code || list.name) return complain(list);
    joining.value = true;
    wrong.value = {};
    try {
      await join(given.code, name.value.trim());
      code.value = '';
      fromLink.value = false;
      done.value = true;
      announce(t.joined);
      requestAnimationFrame(() => document.getElementById('joined')?.focus());
    } catch (error) {
      complain(refusal(error));
    }
    joining.value = false;
  };

  if (done.value && who) {
    const { device } = who;
    return html`<${Page} title=${t.title}>
      <section class="joined" aria-labelledby="joined" data-joined=${device.role}>
        <h2 id="joined" tabindex="-1">${t.joined}</h2>
        <p>${t.joinedAs(device.name, text.who.role(device.role))} ${text.who.may[device.role]}</p>
        <p>${device.role === 'guest' ? t.shoresGuest : t.shores}</p>
        <${Link} class="button main" to="/house" data-do="on">${t.on}<//>
      </section>
    <//>`;
  }
  return html`<${Page} title=${t.title}>
    <p>${t.intro}</p>
    ${who && html`<p class="heed">${t.already(who.device.name, text.who.role(who.device.role))}</p>`}
    ${isApple && (installed.value ? html`<p class="soft">${t.appleHere}</p>` : html`<${AppleFirst} />`)}
    <form class="join" onSubmit=${submit} novalidate>
      <${Field} id="code" label=${t.code} hint=${fromLink.value ? t.codeThere : t.codeHint} value=${code} mode="text" wrong=${wrong.value.code} lines=${2} />
      <${Field} id="name" label=${t.name} hint=${t.nameHint} value=${name} mode="text" wrong=${wrong.value.name} />
      <p id="form-wrong" class="wrong" tabindex="-1" role="alert">${wrong.value.form}</p>
      <button type="submit" class="main" aria-disabled=${joining.value}>${joining.value ? t.doing : t.do}</button>
    </form>
  <//>`;
}

/** The browser of an iPhone, and not the app on its home screen. */
function AppleFirst() {
  const t = text.join;
  const says = useSignal('');
  const take = async () => {
    says.value = (await copy(code.value)) ? t.copied : t.notCopied;
    announce(says.value);
  };
  return html`<section class="heed" aria-labelledby="apple"><h2 id="apple">${t.appleFirst}</h2><p>${t.apple}</p>
    ${code.value && html`<p><button type="button" class="quiet" onClick=${take}>${t.copyCode}</button> <span class="soft">${says.value}</span></p>`}</section>`;
}

/** @param {string} given */
function wrongCode(given) {
  const t = text.join;
  if (!given) return t.needCode;
  const found = slip(given);
  if (!found) return undefined;
  return 'sign' in found ? t.codeSign(found.sign) : t.codeLength(found.length);
}

/** @param {unknown} error @returns {{code?: string, name?: string, form?: string}} */
function refusal(error) {
  const t = text.join;
  if (error instanceof NoSignal) return { form: t.noSignal };
  if (!(error instanceof ApiError)) throw error;
  if (error.code === 'too_many_tries') return { form: t.tooMany(Math.max(1, Math.ceil((error.retryAfterS ?? 600) / 60))) };
  if (error.code === 'no_invitation') return { code: error.message };
  return error.field === 'name' ? { name: error.message } : { form: error.message };
}
