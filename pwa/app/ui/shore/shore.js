import { html } from '../parts/html.js';
import { NotYet } from '../parts/not-yet.js';
import { text } from '../../text/en.js';

export function Shore() {
  return html`<${NotYet} title=${text.shore.title} body=${text.shore.body} />`;
}
