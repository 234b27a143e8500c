// A page of House: the way back, its title.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { entitle } from '../route.js';
import { text } from '../../text/en.js';

/** @param {{title: string, to?: string, back?: string, children?: any}} props to is where back leads */
export function Page({ title, to = '/house', back = text.house.back, children }) {
  useEffect(() => {
    entitle(title);
    return () => entitle();
  }, [title]);
  return html`<div class="page">
    <p><${Link} class="back-link" to=${to}>← ${back}<//></p>
    <h1>${title}</h1>
    ${children}
  </div>`;
}
