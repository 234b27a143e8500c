// The pages of Plan that are about shores, and the one that explains the numbers.

import { html } from '../parts/html.js';
import { entitle, parts } from '../route.js';
import { useEffect } from 'preact/hooks';
import { FirstShore } from './first-shore.js';
import { Numbers } from './numbers.js';
import { ShorePage } from './shore-page.js';
import { ShoresPage } from './shores-page.js';
import { text } from '../../text/en.js';

/**
 * What stands in for Plan's other pages: the page that the path names, or the first choice
 * where there is no shore. Undefined where a shore's windows are asked for.
 * @param {boolean} hasShore
 */
export function shorePage(hasShore) {
  const [, page, id] = parts.value;
  if (page === 'shores') return html`<${Page} title=${text.shores.title}><${ShoresPage} /><//>`;
  if (page === 'shore' && id) return html`<${Page} title=${text.form.title}><${ShorePage} key=${id} id=${id} /><//>`;
  if (page === 'numbers') return html`<${Page} title=${text.numbers.title}><${Numbers} /><//>`;
  return hasShore ? undefined : html`<${FirstShore} />`;
}

/** @param {{title: string, children: any}} props */
function Page({ title, children }) {
  useEffect(() => {
    entitle(title);
    return () => entitle();
  }, [title]);
  return children;
}
