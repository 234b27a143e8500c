// The lock: while it holds, nothing on the page can be pressed but its own two steps, so
// that a pocket or a child changes nothing.

import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { html } from '../parts/html.js';
import { metres } from '../parts/when.js';
import { water } from './now-state.js';
import { locked, setPhone } from './phone-state.js';
import { trendOf } from './staff-drawing.js';
import { text } from '../../text/en.js';

/** How long the second step stands open, seconds. */
const SURE_S = 5;

export function LockScreen() {
  return locked.value ? html`<${Locked} />` : null;
}

function Locked() {
  const t = text.staff.lock;
  const asked = useSignal(false);
  const first = useRef(/** @type {any} */ (null));
  useEffect(() => first.current?.focus(), []);
  useEffect(() => {
    if (!asked.value) return undefined;
    const timer = setTimeout(() => (asked.value = false), SURE_S * 1000);
    return () => clearTimeout(timer);
  }, [asked.value]);
  const open = () => {
    setPhone({ locked: false });
    requestAnimationFrame(() => document.getElementById('page')?.focus());
  };
  const now = water.value;
  return html`<main class="lock" data-locked>
    <h1>${t.title}</h1>
    <p>${t.why}</p>
    ${now && html`<p class="water-now">${text.staff.water.predicted(metres(now.heightM), text.staff.water.trends[trendOf(now.rateMPerHour)])}. ${capital(text.staff.water.look)}.</p>`}
    <button type="button" ref=${first} data-do="unlock" aria-expanded=${asked.value} onClick=${() => (asked.value = true)}>${t.unlock}</button>
    <div class="sure" aria-live="polite">${asked.value && html`<p>${t.within(SURE_S)}</p>
      <button type="button" class="main" data-do="unlock-sure" onClick=${open}>${t.sure}</button>`}</div>
  </main>`;
}

/** @param {string} words */
const capital = (words) => words[0].toUpperCase() + words.slice(1);
