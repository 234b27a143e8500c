// Where the list of stations is not on the phone: what it costs, and a button that fetches
// it. On a phone on which data is dear nobody else does.

import { html } from '../parts/html.js';
import { catalogue, fetchCatalogue, state } from '../../core.js';
import { text } from '../../text/en.js';

export function CatalogueAsk() {
  const t = text.catalogue;
  const is = catalogue.value;
  if (is === 'open' || state.value === 'failed' || state.value === 'mismatch') return null;
  return html`<div class="catalogue-ask" data-catalogue=${is}>
    <p role="status">${t[is]}</p>
    ${is !== 'coming' && html`<button type="button" class="quiet" onClick=${fetchCatalogue}>${is === 'wanted' ? t.fetch : t.again}</button>`}
  </div>`;
}
