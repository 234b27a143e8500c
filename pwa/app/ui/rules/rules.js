// The rule sets on file: their list and age, bringing one in, writing one, trying one. Its
// pages are under /house/rules.

import { html } from '../parts/html.js';
import { parts } from '../route.js';
import { ImportPage } from './import-page.js';
import { ListPage } from './list-page.js';
import { SetPage } from './set-page.js';
import { TryPage } from './try-page.js';

export function Rules() {
  const [, , page, id] = parts.value;
  if (page === 'set') return html`<${SetPage} key=${id} id=${id ?? ''} />`;
  if (page === 'import') return html`<${ImportPage} />`;
  if (page === 'try') return html`<${TryPage} />`;
  return html`<${ListPage} />`;
}
