// One shore's form as a page: a new one, or one to change or delete.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { go } from '../route.js';
import { ShoreForm } from './shore-form.js';
import { deleted, recalled, remove, shores } from './shore-state.js';
import { justDeleted } from './shores-page.js';
import { UsuallyLate } from './usually-late.js';
import { text } from '../../text/en.js';

/** @param {{id: string}} props 'new', or the id of a shore */
export function ShorePage({ id }) {
  const t = text.form;
  if (!recalled.value) return html`<h1>${t.title}</h1>`;
  const from = shores.value.find((one) => one.id === id);
  if (id !== 'new' && !from) {
    const was = deleted.value.find((one) => one.id === id);
    return html`<h1>${t.title}</h1><p>${was ? text.shores.wasDeleted(was.name) : t.gone}</p><p><${Link} class="button" to="/plan/shores">${t.all}<//></p>`;
  }
  const del = async () => {
    if (!from) return;
    await remove(from);
    justDeleted.value = from.id;
    go('/plan/shores');
  };
  return html`
    <h1>${from ? from.name : t.newTitle}</h1>
    ${from && html`<${UsuallyLate} shore=${from.id} />`}
    <${ShoreForm} key=${id} from=${from} done=${() => go('/plan')} cancel=${() => go(from || shores.value.length > 0 ? '/plan/shores' : '/plan')} />
    ${from && html`<p><${Link} class="button" data-do="history" to=${`/house/history/shore/${from.id}`}>${text.history.title}<//></p>`}
    ${from && html`<button type="button" class="remove" data-do="remove" onClick=${del}>${t.remove}</button>`}`;
}
