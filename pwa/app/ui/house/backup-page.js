// The whole book in one file. The browser fetches it by itself: it may be larger than what
// a page can hold.

import { html } from '../parts/html.js';
import { Page } from './page.js';
import { text } from '../../text/en.js';

export function BackupPage() {
  const t = text.backup;
  return html`<${Page} title=${t.title}>
    <p class="heed">${t.what}</p>
    <p>${t.how} ${t.busy}</p>
    <a class="button main" href="/api/backup" download data-do="backup">${t.do}</a>
    <section aria-labelledby="restore">
      <h2 id="restore">${t.restore}</h2>
      <p>${t.restoreHow}</p>
      <p><code class="command">${t.restoreCommand}</code> <code class="command">${t.serveCommand}</code></p>
      <p class="soft">${t.restoreAfter}</p>
    </section>
  <//>`;
}
