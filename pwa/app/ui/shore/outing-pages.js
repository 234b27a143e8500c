// Which page around an outing a path names.

import { html } from '../parts/html.js';
import { CatchUp } from './catch-up.js';
import { GoOrNoGo } from './go.js';
import { Help } from './help.js';
import { OutingForm } from './outing-form.js';
import { SlatePage } from './slate.js';

/**
 * @param {string[]} parts of the path
 * @returns what to show; undefined where the path is another's
 */
export function outingPage([, page, of, then]) {
  if (page === 'help') return html`<${Help} />`;
  if (page === 'slate' && of) return html`<${SlatePage} key=${of} />`;
  if (page === 'catch-up' && of) return html`<${CatchUp} key=${of} />`;
  if (page === 'outing' && of) return of === 'new' || then === 'change' ? html`<${OutingForm} key=${of} />` : html`<${GoOrNoGo} key=${of} />`;
  return undefined;
}
