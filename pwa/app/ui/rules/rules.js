// The rule sets on file: their list and age, bringing one in, writing one, trying one. Its
// pages are under /house/rules.

import { html } from '../parts/html.js';
import { parts } from '../route.js';
import { ImportPage } from './import-page.js';
import { ListPage } from './list-page.js';
import { OwnPage } from './own-page.js';
import { PapersPage } from './papers-page.js';
import { PastPage } from './past-page.js';
import { SetPage } from './set-page.js';
import { TryPage } from './try-page.js';
import { WritePage } from './write-page.js';

export function Rules() {
  const [, , page, id, step, rule] = parts.value;
  if (page === 'set') return html`<${SetPage} key=${id} id=${id ?? ''} />`;
  if (page === 'past') return html`<${PastPage} key=${id} id=${id ?? ''} />`;
  if (page === 'papers') return html`<${PapersPage} />`;
  if (page === 'import') return html`<${ImportPage} />`;
  if (page === 'write') return html`<${WritePage} key=${id} of=${id} step=${step} rule=${rule} />`;
  if (page === 'own') return html`<${OwnPage} key=${id} id=${id} />`;
  if (page === 'try') return html`<${TryPage} />`;
  return html`<${ListPage} />`;
}
