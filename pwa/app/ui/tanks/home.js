// The first page of Tanks.

import { html } from '../parts/html.js';
import { NotYet } from '../parts/not-yet.js';
import { picture } from './picture-state.js';
import { tanks as t } from '../../text/en-tanks.js';

export function Home() {
  return html`<div data-reckoned=${Boolean(picture.value)}></div><${NotYet} title=${t.title} body=${t.body} />`;
}
