// Whether finds get their position, in one line, and the way to say so.

import { html } from '../parts/html.js';
import { underWay } from './outing-state.js';
import { fixState, want, wanted } from './position.js';
import { text } from '../../text/en.js';

/** Only while an outing is under way is there anything to ask. */
export function PositionLine() {
  const t = text.log.position;
  if (!underWay.value || wanted.value === undefined) return null;
  if (!wanted.value) {
    return html`<div class="position" data-position="off"><p class="soft">${t.why}</p><button type="button" class="quiet" data-do="position" onClick=${() => want(true)}>${t.ask}</button></div>`;
  }
  const is = fixState.value;
  return html`<div class="position" data-position=${is}><p class="soft">${is === 'off' ? '' : t[is]}</p><button type="button" class="quiet" data-do="no-position" onClick=${() => want(false)}>${t.off}</button></div>`;
}
