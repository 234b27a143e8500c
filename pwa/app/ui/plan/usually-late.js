// What visits say of this shore's own tide, on its page: evidence to look at, never applied
// by itself.

import { html } from '../parts/html.js';
import { records } from '../../data/book.js';
import { lateness } from '../../data/lateness.js';
import { text } from '../../text/en.js';

/** @param {{shore: string}} props id */
export function UsuallyLate({ shore }) {
  const t = text.staff.higher;
  const found = lateness(records('outing').value, shore);
  if (!found) return null;
  const open = (/** @type {Event} */ event) => {
    event.preventDefault();
    for (const details of document.querySelectorAll('form details')) if (details.querySelector('#lowMinutes')) details.setAttribute('open', '');
    document.getElementById('lowMinutes')?.focus();
  };
  return html`<section class="usually" data-usually=${found.lateMin}>
    <p><strong>${t.usually(found.visits, found.lateMin)}</strong> ${t.usuallyWhy}</p>
    <p><a class="button" href="#lowMinutes" onClick=${open}>${t.set}</a></p>
  </section>`;
}
