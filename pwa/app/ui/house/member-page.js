// The form of a member.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Field } from '../parts/field.js';
import { Link } from '../parts/link.js';
import { announce } from '../parts/announce.js';
import { go } from '../route.js';
import { records, write } from '../../data/book.js';
import { uuidv7 } from '../../data/ids.js';
import { Confirm } from './confirm.js';
import { justDone, mayEdit } from './members-page.js';
import { Page } from './page.js';
import { text } from '../../text/en.js';

/** As internal/book has it, in characters. */
const MOST_NAME = 80;

/** @param {{of: string}} props the member's id, or 'new' */
export function MemberPage({ of }) {
  const t = text.members;
  const back = { to: '/house/members', back: t.title };
  const one = records('member').value.find(({ id, deleted }) => id === of && !deleted);
  if (!mayEdit()) return html`<${Page} title=${t.title} ...${back}><p>${t.others}</p><//>`;
  if (of !== 'new' && !one) return html`<${Page} title=${t.editTitle} ...${back}><p>${t.gone}</p><//>`;
  return html`<${Page} title=${one ? t.editTitle : t.add} ...${back}><${MemberForm} one=${one} /><//>`;
}

/** @param {{one?: import('../../data/book.js').Rec}} props */
function MemberForm({ one }) {
  const t = text.members;
  const name = useSignal(String(one?.fields.name ?? ''));
  const age = useSignal(/** @type {'adult' | 'child' | undefined} */ (one?.fields.age));
  const wrong = useSignal(/** @type {{name?: string, age?: string}} */ ({}));
  const asking = useSignal(false);

  /** @param {Record<string, any>} fields @param {string} says */
  const keep = async (fields, says) => {
    const kept = await write('member', one?.id ?? uuidv7(), fields);
    justDone.value = kept ? says : t.unkept;
    go('/house/members');
  };
  /** @param {Event} event */
  const save = (event) => {
    event.preventDefault();
    const now = name.value.trim();
    wrong.value = {
      name: !now ? t.needName : Array.from(now).length > MOST_NAME ? t.tooLong(MOST_NAME) : undefined,
      age: age.value ? undefined : t.needAge,
    };
    if (wrong.value.name || wrong.value.age) {
      announce([wrong.value.name, wrong.value.age].filter(Boolean).join(' '));
      return void requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector(wrong.peek().name ? '#name' : 'input[name="age"]'))?.focus());
    }
    /** @type {Record<string, any>} */
    const fields = {};
    if (now !== one?.fields.name) fields.name = now;
    if (age.value !== one?.fields.age) fields.age = age.value;
    keep(fields, t.saved(now));
  };
  return html`<form onSubmit=${save} novalidate>
    <${Field} id="name" label=${t.name} value=${name} mode="text" wrong=${wrong.value.name} />
    <fieldset class="field" aria-describedby="age-wrong">
      <legend>${t.age}</legend>
      ${/** @type {const} */ (['adult', 'child']).map((is) => html`<label class="check"><input type="radio" name="age" value=${is} checked=${age.value === is}
        onChange=${() => (age.value = is)} /> ${t[is]}</label>`)}
      <p id="age-wrong" class="wrong">${wrong.value.age}</p>
    </fieldset>
    <div class="actions">
      <${Link} class="button" to="/house/members">${t.cancel}<//>
      <button type="submit" class="main">${t.save}</button>
    </div>
  </form>
  ${one && html`<p><${Link} class="button" data-do="history" to=${`/house/history/member/${one.id}`}>${text.history.title}<//></p>`}
  ${one && (asking.value
    ? html`<${Confirm} asks=${t.removeAsk(one.fields.name)} says=${t.removeWhat} does=${t.removeDo} act=${() => keep({ deleted: true }, t.removed(one.fields.name))} leave=${() => (asking.value = false)} />`
    : html`<button type="button" class="remove" data-do="remove" onClick=${() => (asking.value = true)}>${t.remove}</button>`)}`;
}
