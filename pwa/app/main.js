// The entry of the app: paint first, then wake the core, then the service worker.

import { html } from './ui/parts/html.js';
import { render } from 'preact';
import { Shell } from './ui/shell.js';
import { start as startCore, onFailure } from './core.js';
import { start as startBridge } from './sw-bridge.js';
import { me, recallMe, refreshMe } from './data/door.js';
import { record } from './data/errors.js';
import { startRules } from './data/rules.js';
import { startSync } from './data/sync.js';
import { keptUnits } from './data/unit-choice.js';
import { recall } from './ui/plan/plan-state.js';
import { showIn } from './ui/parts/units.js';

// A drawing that fits itself to its frame a second time is no error.
addEventListener('error', (event) => event.message.startsWith('ResizeObserver loop') || record(event.message));
addEventListener('unhandledrejection', (event) => record(String(event.reason)));
onFailure(record);

/** A database that is slow to open must not hold up the first paint. */
const RECALL_MS = 300;

Promise.race([Promise.all([recall(), keptUnits().then((kept) => kept && showIn(kept))]), new Promise((resolve) => setTimeout(resolve, RECALL_MS))]).finally(() => {
  render(html`<${Shell} />`, /** @type {HTMLElement} */ (document.getElementById('app')));
  // After two frames the first paint is on the screen.
  requestAnimationFrame(() => requestAnimationFrame(() => {
    startCore();
    startRules();
    startBridge().catch((error) => record(String(error)));
    recallMe().then(startSync).catch((error) => record(String(error))).then(() => {
      if (me.peek()) refreshMe().catch(() => {}); // no signal, or shut out: the exchange says so
    });
  }));
});
