// The rule sets on file: their list and age, bringing one in, writing one, trying one. Its
// pages are under /house/rules.

import { html } from '../parts/html.js';
import { Page } from '../house/page.js';
import { rules as t } from '../../text/en-rules.js';

export function Rules() {
  return html`<${Page} title=${t.title}><p>${t.none}</p><//>`;
}
