// The verdict in one line, beside the button that saves: its word in full and its own shape
// first, then the arithmetic.

import { useEffect, useRef } from 'preact/hooks';
import { announce } from '../parts/announce.js';
import { html } from '../parts/html.js';
import { later } from '../parts/later.js';
import { against, limitOf } from './verdict-state.js';
import { takes as t } from '../../text/en-takes.js';
import { text } from '../../text/en.js';

/** @typedef {import('./verdict-state.js').Verdict} Verdict */

/** @param {'AskPage' | 'SlateLimits' | 'Tally' | 'VerdictPanel'} name */
const taking = (name) => later(async () => (await import('./takes.js'))[name]);

export const AskPage = taking('AskPage');
export const SlateLimits = taking('SlateLimits');
export const Tally = taking('Tally');
export const VerdictPanel = taking('VerdictPanel');

/** A column that stands under, at or over its line; a dotted frame for what is not known; a frame that is crossed out. */
const shapes = /** @type {Record<string, [string, string]>} */ ({
  within: ['M10 18H22V30H10Z', 'M2 8H30'],
  atLimit: ['M10 8H22V30H10Z', 'M2 8H30'],
  over: ['M10 2H22V6H10ZM10 10H22V30H10Z', 'M2 8H30'],
  unchecked: ['', 'M4 4H9M14 4H18M23 4H28V9M28 14V18M28 23V28H23M18 28H14M9 28H4V23M4 18V14M4 9V4'],
  forbidden: ['', 'M3 3H29V29H3ZM3 3 29 29M29 3 3 29'],
  '': ['', 'M6 16H9M14.5 16H17.5M23 16H26'],
});

/** @param {{of: string}} props */
export function VerdictShape({ of }) {
  const [filled, drawn] = shapes[of] ?? shapes[''];
  return html`<svg class="verdict-shape" viewBox="0 0 32 32" aria-hidden="true"><path d=${filled} /><path class="drawn" d=${drawn} /></svg>`;
}

/**
 * What the button that saves says.
 * @param {Verdict | undefined} of @param {string} fate
 */
export const saveWords = (of, fate) => (fate === 'taken' && against(of) ? t.record : text.log.save);

/** @param {{of: Verdict | undefined, taking: boolean}} props taking: whether it is about to be saved as taken */
export function VerdictLine({ of, taking }) {
  const is = of?.verdict ?? '';
  const count = of && of.verdict !== 'forbidden' && limitOf(of);
  const lacks = is !== 'unchecked' || !of?.missing.length ? '' : of.missing.some(({ fact }) => fact === 'answer') ? t.asks : t.lacks(of.missing.length);
  const counts = count ? t.count(count.taken, count.this, count.limit, count.unit) : '';
  const ours = t.ours[of?.household ?? ''] ?? '';
  const says = of ? [t.words[is], lacks || counts, ours].filter(Boolean).join('. ') : '';
  // Said aloud when it is another one; what is between two answers is not.
  const said = useRef('');
  useEffect(() => {
    if (says && said.current && says !== said.current) announce(says);
    said.current = says || said.current;
  }, [says]);
  return html`<div class="verdict-line" data-verdict=${is || 'none'}>
    <${VerdictShape} of=${is} />
    <p><strong>${t.words[is]}</strong>
      ${(lacks || counts) && html`<span>${lacks || counts}</span>`}
      ${ours && html`<span data-household=${of?.household}>${ours}</span>`}
      ${taking && against(of) && html`<span data-recording>${t.recording}</span>`}</p>
  </div>`;
}
