// Tanks: what was brought home, how it settles in, and what is due. Its pages are under
// /tanks; each pages file knows its own.

import { html } from '../parts/html.js';
import { parts } from '../route.js';
import { Home } from './home.js';
import { paperPages } from './paper-pages.js';
import { specimenPages } from './specimen-pages.js';
import { waterPages } from './water-pages.js';

/** The second part of the path names the page; what follows are its own. @type {Record<string, (props: {of: string[]}) => any>} */
const pages = { ...specimenPages, ...waterPages, ...paperPages };

export function Tanks() {
  const [, page, ...of] = parts.value;
  const Shown = page ? pages[page] : undefined;
  return Shown ? html`<${Shown} key=${parts.value.join('/')} of=${of} />` : html`<${Home} />`;
}
