import { html } from '../parts/html.js';
import { NotYet } from '../parts/not-yet.js';
import { parts } from '../route.js';
import { findsPage } from './finds-pages.js';
import { text } from '../../text/en.js';

export function Shore() {
  return findsPage(parts.value) ?? html`<${NotYet} title=${text.shore.title} body=${text.shore.body} />`;
}
