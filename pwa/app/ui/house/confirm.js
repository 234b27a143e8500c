// A question before what cannot be taken back. It takes the focus, so that it is heard.

import { useEffect, useRef } from 'preact/hooks';
import { html } from '../parts/html.js';
import { text } from '../../text/en.js';

/** @param {{asks: string, says: string, does: string, act: () => void, leave: () => void, wrong?: string}} props */
export function Confirm({ asks, says, does, act, leave, wrong }) {
  const heading = useRef(/** @type {HTMLElement | null} */ (null));
  useEffect(() => heading.current?.focus(), []);
  const key = (/** @type {KeyboardEvent} */ event) => event.key === 'Escape' && leave();
  return html`<div class="confirm" role="group" aria-labelledby="confirm" onKeyDown=${key}>
    <h2 id="confirm" tabindex="-1" ref=${heading}>${asks}</h2>
    <p>${says}</p>
    <p class="wrong" role="alert">${wrong}</p>
    <div class="two">
      <button type="button" data-do="leave" onClick=${leave}>${text.confirm.not}</button>
      <button type="button" class="grave" data-do="confirm" onClick=${act}>${does}</button>
    </div>
  </div>`;
}
