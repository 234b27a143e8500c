import { html } from '../parts/html.js';
import { NotYet } from '../parts/not-yet.js';
import { text } from '../../text/en.js';

export function Tanks() {
  return html`<${NotYet} title=${text.tanks.title} body=${text.tanks.body} />`;
}
