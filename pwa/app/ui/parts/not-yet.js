// A place that is not built yet says so.

import { html } from './html.js';
import { text } from '../../text/en.js';

/** @param {{title: string, body: string}} props */
export function NotYet({ title, body }) {
  return html`<h1>${title}</h1><h2>${text.notHereYet}</h2><p>${body}</p>`;
}
