// Bars above the page: a new version, a core that failed, storage that does not keep.

import { html } from './html.js';
import { update, useNow } from '../../sw-bridge.js';
import { state, start } from '../../core.js';
import { storage } from '../../data/db.js';
import { text } from '../../text/en.js';

export function Bars() {
  const reload = () => location.reload();
  return html`
    ${update.value === 'ready' && html`<${Bar} name="update" says=${text.update.ready} does=${text.update.use} act=${useNow} />`}
    ${update.value === 'elsewhere' && html`<${Bar} name="update" says=${text.update.elsewhere} does=${text.update.reload} act=${useNow} />`}
    ${state.value === 'mismatch' && html`<${Bar} name="core" says=${text.core.mismatch} does=${text.core.reload} act=${reload} />`}
    ${state.value === 'failed' && html`<${Bar} name="core" says=${text.core.failed} does=${text.core.retry} act=${start} />`}
    ${storage.value !== 'ok' && html`<${Bar} name="storage" says=${text.storage[storage.value]} />`}`;
}

/** @param {{name: string, says: string, does?: string, act?: () => void}} props */
function Bar({ name, says, does, act }) {
  return html`<div class="bar" data-bar=${name} role="alert"><p>${says}</p>${does && html`<button type="button" onClick=${act}>${does}</button>`}</div>`;
}
