// Shore: the staff, and the pages beside it. This file only chooses.

import { html } from '../parts/html.js';
import { parts } from '../route.js';
import { BackPage } from './back-page.js';
import { findsPage } from './finds-pages.js';
import { GoPage } from './go-page.js';
import { HeadsPage } from './heads-page.js';
import { HigherPage } from './higher-page.js';
import { outingPage } from './outing-pages.js';
import { StaffPage } from './staff-page.js';
import { StartPage } from './start-page.js';

export function Shore() {
  const [, page, of] = parts.value;
  if (page === 'heads') return html`<${HeadsPage} />`;
  if (page === 'higher') return html`<${HigherPage} />`;
  if (page === 'back') return html`<${BackPage} />`;
  if (page === 'go') return html`<${GoPage} />`;
  if (page === 'start') return html`<${StartPage} key=${of} id=${of ?? ''} />`;
  return outingPage(parts.value) ?? findsPage(parts.value) ?? html`<${StaffPage} />`;
}
