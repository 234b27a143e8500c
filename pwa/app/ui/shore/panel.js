// A page of the shore beside the staff: the way back to it, its title.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { entitle } from '../route.js';
import { text } from '../../text/en.js';

/** @param {{name: string, title: string, children?: any}} props name is for styles and tests */
export function Panel({ name, title, children }) {
  useEffect(() => {
    entitle(title);
    return () => entitle();
  }, [title]);
  return html`<div class="onshore panel" data-panel=${name}>
    <p><${Link} class="way-back" to="/shore">← ${text.staff.higher.toStaff}<//></p>
    <h1>${title}</h1>
    ${children}
  </div>`;
}
