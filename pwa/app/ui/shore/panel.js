// A page of the shore beside the staff: the way back to it, its title.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { entitle } from '../route.js';
import { HelpLink } from './help-link.js';
import { text } from '../../text/en.js';

/** @param {{name: string, title: string, help?: boolean, children?: any}} props name is for styles and tests; help: whether the way there stands here */
export function Panel({ name, title, help = true, children }) {
  useEffect(() => {
    entitle(title);
    return () => entitle();
  }, [title]);
  return html`<div class="onshore panel" data-panel=${name}>
    <p class="shore-top"><${Link} class="way-back" to="/shore">← ${text.help.back}<//>${help && html`<${HelpLink} />`}</p>
    <h1>${title}</h1>
    ${children}
  </div>`;
}
