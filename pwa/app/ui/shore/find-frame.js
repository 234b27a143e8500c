// A page about finds: the way back, its title, text and targets for a wet thumb.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { recallKinds } from '../parts/kinds.js';
import { entitle } from '../route.js';
import { HelpLink } from './help-link.js';
import { beginPositions } from './position.js';
import { text } from '../../text/en.js';

/**
 * @param {{title: string, to?: string, back?: string, wide?: boolean, beside?: any, unseen?: boolean, children?: any}} props to is where
 *   back leads; beside: another way, on the same line; unseen: the title is for readers of the screen alone
 */
export function FindFrame({ title, to = '/shore', back = text.finds.back, wide, beside, unseen, children }) {
  useEffect(() => {
    entitle(title);
    recallKinds();
    beginPositions();
    return () => entitle();
  }, [title]);
  return html`<div class=${wide ? 'finds wide' : 'finds'}>
    <p class="ways-out"><${Link} class="back-link" to=${to}>← ${back}<//>${beside}<${HelpLink} /></p>
    <h1 class=${unseen ? 'unseen' : ''}>${title}</h1>
    ${children}
  </div>`;
}
