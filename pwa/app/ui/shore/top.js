// What stands on top of Shore's pages but the staff: the way back, the way to help.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { HelpLink } from './help-link.js';
import { text } from '../../text/en.js';

/** @param {{help?: boolean}} props help: whether the way there stands here */
export function Top({ help = true }) {
  return html`<div class="shore-top">
    <${Link} class="button quiet" to="/shore" data-do="staff">← ${text.help.back}<//>
    ${help && html`<${HelpLink} />`}
  </div>`;
}
