// A sheet of paper: which, how it looks on the screen, how it is printed.

import { computed, signal } from '@preact/signals';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { html } from '../parts/html.js';
import { household } from '../../data/household.js';
import { PAPERS } from './label-grid.js';
import { paper as t } from '../../text/en-tank-paper.js';

/** @typedef {import('./label-grid.js').Paper} Paper */

/** Countries where sheets are of Letter's size (from memory: confirm), ISO 3166-1. */
const LETTER = ['US', 'CA', 'MX', 'PH', 'CL', 'CO', 'VE', 'CR', 'GT', 'PA', 'DO', 'PR'];

const picked = signal(/** @type {Paper | undefined} */ (undefined));
export const paperSize = computed(() => picked.value ?? (LETTER.includes(household.value.country) ? 'letter' : 'a4'));

/** The choice of paper, on the screen only. */
export function PaperChoice() {
  return html`<div class="field screen"><label for="paper">${t.paperOf}</label>
    <select id="paper" value=${paperSize.value} onChange=${(/** @type {any} */ e) => (picked.value = e.target.value)}>
      ${Object.entries(t.papers).map(([is, words]) => html`<option value=${is} selected=${is === paperSize.value}>${words}</option>`)}
    </select></div>`;
}

/** @param {{children?: any}} props */
export const PrintBar = ({ children }) => html`<div class="actions screen">
  <button type="button" class="main" data-do="print" onClick=${() => print()}>${t.print}</button>${children}
  <p class="soft">${t.actual}</p></div>`;

/**
 * A row of sheets as they will be printed, as large as the screen lets them be.
 * @param {{paper: Paper, wide?: boolean, kind: string, label: string, sheets: any[], measured?: (box: HTMLElement) => void}} props
 *   measured is called with the sheets at their true size, before they are shown
 */
export function Sheets({ paper, wide = false, kind, label, sheets, measured }) {
  const box = useRef(/** @type {HTMLElement | null} */ (null));
  useLayoutEffect(() => {
    const at = /** @type {HTMLElement} */ (box.current);
    const fit = () => {
      const mm = wide ? PAPERS[paper].height : PAPERS[paper].width;
      at.style.setProperty('--zoom', String(Math.min(1, at.clientWidth / ((mm * 96) / 25.4 + 2))));
    };
    at.style.setProperty('--zoom', '1');
    measured?.(at);
    fit();
    const watch = new ResizeObserver(fit);
    watch.observe(at);
    return () => watch.disconnect();
  });
  const name = `paper-sheet paper-${kind} paper-${paper}${wide ? '-wide' : ''}`;
  return html`<section class="paper" aria-label=${label} ref=${box}>${sheets.map((sheet, i) => html`<article key=${i} class=${name}>${sheet}</article>`)}</section>`;
}
