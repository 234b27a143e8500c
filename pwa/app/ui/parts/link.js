// A link to another page of the app.

import { html } from './html.js';
import { follow } from '../route.js';

/** @param {{to: string, children: any, [attribute: string]: any}} props */
export function Link({ to, children, ...rest }) {
  return html`<a href=${to} onClick=${follow} ...${rest}>${children}</a>`;
}
