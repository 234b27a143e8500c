// What came of a touch: it takes the focus, since what was touched is gone.

import { useEffect, useRef } from 'preact/hooks';
import { html } from '../parts/html.js';

/** @param {{says: string}} props */
export function Outcome({ says }) {
  const here = useRef(/** @type {any} */ (null));
  useEffect(() => here.current?.focus(), []);
  return html`<p class="outcome" tabindex="-1" ref=${here} data-said>${says}</p>`;
}
