// The way to the emergency card, one touch from every page of Shore.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { text } from '../../text/en.js';

export function HelpLink() {
  return html`<${Link} class="button help-link" to="/shore/help" data-do="help">${text.help.link}<//>`;
}
