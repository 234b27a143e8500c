// Letting another device in: what it shall be, and the invitation in the three forms in
// which it can travel.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Field } from '../parts/field.js';
import { Link } from '../parts/link.js';
import { copy, send } from '../parts/send.js';
import { ApiError } from '../../data/api.js';
import { invite } from '../../data/door.js';
import { here } from './here.js';
import { Page } from './page.js';
import { QR } from './qr.js';
import { text } from '../../text/en.js';

/** @typedef {import('../../data/door.js').Role} Role */
/** @typedef {Awaited<ReturnType<typeof invite>>} Invitation */

/** The one that is asked for most comes first; a keeper's is the gravest. */
const ROLES = /** @type {const} */ (['collector', 'child', 'guest', 'keeper']);

const DAY = 1440;
/** Bytes, as internal/store has it. */
const MOST_NAME = 60;

export function InvitePage() {
  const t = text.invite;
  const made = useSignal(/** @type {Invitation | undefined} */ (undefined));
  const show = (/** @type {Invitation | undefined} */ now) => {
    made.value = now;
    requestAnimationFrame(() => document.getElementById(now ? 'made' : 'page')?.focus());
  };
  return html`<${Page} title=${t.title}>
    ${made.value ? html`<${Made} invitation=${made.value} another=${() => show(undefined)} />` : html`<${InviteForm} done=${show} />`}
  <//>`;
}

/** @param {{done: (made: Invitation) => void}} props */
function InviteForm({ done }) {
  const t = text.invite;
  const role = useSignal(/** @type {Role} */ ('collector'));
  const name = useSignal('');
  const minutes = useSignal(DAY);
  const making = useSignal(false);
  const wrong = useSignal(/** @type {{name?: string, form?: string}} */ ({}));

  /** @param {Event} event */
  const make = async (event) => {
    event.preventDefault();
    if (making.value) return;
    const whose = name.value.trim();
    wrong.value = new TextEncoder().encode(whose).length > MOST_NAME ? { name: t.nameLong } : {};
    if (wrong.value.name) return document.getElementById('name')?.focus();
    making.value = true;
    try {
      done(await invite({ role: role.value, name: whose, minutes: minutes.value }));
    } catch (error) {
      wrong.value = { form: error instanceof ApiError ? error.message : t.noSignal };
    }
    making.value = false;
  };
  return html`<form onSubmit=${make} novalidate>
    <fieldset class="field">
      <legend>${t.role}</legend>
      ${ROLES.map((is) => html`<label class="check"><input type="radio" name="role" value=${is} checked=${role.value === is} onChange=${() => (role.value = is)} />
        <span>${text.who.role(is)} <span class="soft">${text.who.may[is]}</span></span></label>`)}
    </fieldset>
    <${Field} id="name" label=${t.name} hint=${t.nameHint} value=${name} mode="text" wrong=${wrong.value.name} />
    <div class="field"><label for="minutes">${t.minutes}</label>
      <select id="minutes" value=${minutes.value} onChange=${(/** @type {any} */ e) => (minutes.value = Number(e.target.value))}>
        ${t.spans.map(([n, words]) => html`<option value=${n}>${words}</option>`)}
      </select></div>
    <p class="wrong" role="alert">${wrong.value.form}</p>
    <button type="submit" class="main" aria-disabled=${making.value}>${making.value ? t.doing : t.do}</button>
  </form>`;
}

/** @param {{invitation: Invitation, another: () => void}} props */
function Made({ invitation: { code, link, role, expiresMs, qr }, another }) {
  const t = text.invite;
  const says = useSignal('');
  const until = here(expiresMs);
  /** @param {Promise<boolean>} copied */
  const tell = async (copied) => {
    says.value = (await copied) ? t.copied : t.notCopied;
    announce(says.value);
  };
  const share = async () => {
    const how = await send(t.message(link, code, until));
    if (how === 'copied' || how === 'neither') tell(Promise.resolve(how === 'copied'));
  };
  return html`<section class="made" aria-labelledby="made" data-code=${code} data-link=${link}>
    <h2 id="made" tabindex="-1">${t.made}</h2>
    <p>${t.works(text.who.role(role), until)}</p>
    <div class="ways-in">
      <div><h3>${t.scan}</h3><${QR} rows=${qr} label=${t.scan} /></div>
      <div>
        <h3>${t.link}</h3>
        <p><code class="link">${link}</code></p>
        <p><button type="button" class="quiet" data-do="copy" onClick=${() => tell(copy(link))}>${t.copy}</button></p>
        <h3>${t.code}</h3>
        <p class="code" data-groups>${code.split('-').map((group) => html`<span>${group}</span> `)}</p>
        <p class="soft">${t.apple}</p>
        <p><${Link} class="back-link" to="/house/reach">${t.reach}<//></p>
      </div>
    </div>
    <p class="soft" data-says>${says.value}</p>
    <div class="actions">
      <button type="button" data-do="another" onClick=${another}>${t.another}</button>
      <button type="button" class="main" data-do="share" onClick=${share}>${t.share}</button>
    </div>
  </section>`;
}
