// A place that comes in a file of its own, fetched when it is opened and not with the first
// load. Behind the first load the service worker keeps these files too, so that they open
// without signal.

import { signal } from '@preact/signals';
import { html } from './html.js';
import { text } from '../../text/en.js';

/** @type {Promise<void> | undefined} */
let styled;

/** The styles of every such place, once. */
function style() {
  styled ??= new Promise((resolve, reject) => {
    const link = document.createElement('link');
    link.rel = 'stylesheet';
    link.href = LATER_STYLE_URL;
    link.onload = () => resolve();
    link.onerror = () => {
      link.remove();
      styled = undefined;
      reject(new Error('the styles did not come'));
    };
    document.head.append(link);
  });
  return styled;
}

/**
 * @param {() => Promise<any>} load imports the component
 * @returns a component that shows it when it is there
 */
export function later(load) {
  const came = signal(/** @type {any} */ (undefined));
  const failed = signal(false);
  let asked = false;
  const ask = async () => {
    asked = true;
    failed.value = false;
    try {
      const [page] = await Promise.all([load(), style()]);
      came.value = { page };
    } catch {
      asked = false;
      failed.value = true;
    }
  };
  return function Later(/** @type {any} */ props) {
    if (!came.value && !asked && !failed.value) ask();
    if (came.value) return html`<${came.value.page} ...${props} />`;
    if (!failed.value) return html`<p class="soft" data-later="coming" role="status">${text.later.coming}</p>`;
    return html`<div data-later="failed" role="alert"><p>${text.later.failed}</p><button type="button" onClick=${ask}>${text.later.again}</button></div>`;
  };
}
