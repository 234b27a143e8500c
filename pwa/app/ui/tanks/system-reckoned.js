// Whether what stands on the page is what the core says now; where it is not, how old it is.

import { html } from '../parts/html.js';
import { now } from '../parts/now.js';
import { state as core } from '../../core.js';
import { coming, current, picture, reckonAgain, trouble } from './picture-state.js';
import { tanks as text } from '../../text/en-tanks.js';

export function Reckoned() {
  const is = picture.value;
  const failed = core.value === 'failed' || core.value === 'mismatch' || trouble.value !== '';
  if (!is && !failed) return html`<p class="soft" data-picture="coming" role="status">${text.reckoning}</p>`;
  if (!is) return html`<div class="heed" data-picture="none" role="alert"><p>${text.reckoningFailed}</p>${trouble.value && html`<p>${trouble.value}</p>`}<button type="button" class="quiet" data-do="reckon" onClick=${reckonAgain}>${text.again}</button></div>`;
  if (coming.value) return html`<div class="heed" data-picture="partial" role="status"><p>${text.comingBook}</p></div>`;
  const age = now.value - is.atMs;
  return html`
    ${!current.value && html`<div class="heed" data-picture="old"><p>${text.old(text.minutes(Math.max(1, Math.round(age / 60_000))))} ${trouble.value}</p><button type="button" class="quiet" data-do="reckon" onClick=${reckonAgain}>${text.again}</button></div>`}
    ${is.unread.length > 0 && html`<p class="heed" data-unread=${is.unread.length}>${text.unread(is.unread.length)}</p>`}`;
}
