// One label, placed on its sheet to the tenth of a millimetre.

import { useLayoutEffect, useRef } from 'preact/hooks';
import { html } from '../parts/html.js';

/** @param {{words: import('./label-words.js').LabelWords, grid: import('./label-grid.js').Grid & {cut?: boolean}, x: number, y: number}} props */
export function Label({ words, grid, x, y }) {
  const at = useRef(/** @type {HTMLElement | null} */ (null));
  // The places differ from sheet to sheet; the policy of the app allows no style in markup.
  useLayoutEffect(() => {
    const { style } = /** @type {HTMLElement} */ (at.current);
    for (const [name, mm] of Object.entries({ '--x': x, '--y': y, '--w': grid.width, '--h': grid.height })) style.setProperty(name, `${mm}mm`);
  }, [x, y, grid.width, grid.height]);
  return html`<div class=${`label${grid.cut ? ' label-cut' : ''}`} data-label=${words.id} ref=${at}><div>
    <p class="label-name"><strong>${words.title}</strong>${words.kind && html` <em>${words.kind}</em>`}</p>
    <p>${words.stays && html`<strong>${words.stays}</strong> · `}${words.lot}</p>
    <p>${words.watched}${words.handed && `. ${words.handed}`}</p>
    <ul>${words.care.map((line) => html`<li>${line}</li>`)}</ul>
    <p class="label-never"><strong>${words.never}</strong> ${words.rid}</p>
  </div></div>`;
}
