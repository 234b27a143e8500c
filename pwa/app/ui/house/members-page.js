// Who belongs to the household. Keepers write the list, everyone reads it.

import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { records } from '../../data/book.js';
import { me } from '../../data/door.js';
import { Page } from './page.js';
import { text } from '../../text/en.js';

/** What the form has just done, to be said once the list is there. */
export const justDone = signal('');

/** A phone that is alone is its own keeper. */
export const mayEdit = () => !me.value || me.value.device.role === 'keeper';

export function MembersPage() {
  const t = text.members;
  useEffect(() => {
    if (justDone.peek()) announce(justDone.peek());
    justDone.value = '';
  }, []);
  const list = records('member').value.filter((one) => !one.deleted && one.fields.name)
    .sort((a, b) => String(a.fields.name).localeCompare(String(b.fields.name)));
  return html`<${Page} title=${t.title}>
    ${list.length === 0 && html`<p>${t.none}</p>`}
    <ul class="entries members">${list.map((one) => html`<li key=${one.id} data-member=${one.id}>
      <p><strong>${one.fields.name}</strong> <span class="soft">${one.fields.age === 'child' ? t.child : t.adult}</span></p>
      ${mayEdit() && html`<${Link} class="button" aria-label=${t.editLabel(one.fields.name)} to=${'/house/members/' + one.id}>${t.edit}<//>`}
    </li>`)}</ul>
    ${mayEdit() ? html`<${Link} class="button main" to="/house/members/new" data-do="add">${t.add}<//>` : html`<p class="soft">${t.others}</p>`}
  <//>`;
}
