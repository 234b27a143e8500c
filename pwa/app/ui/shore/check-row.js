// One check of go or no-go: its state in a word, when it was made, and its answer.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { dayAndClock } from '../parts/when.js';
import { height, typedHeight } from '../parts/units.js';
import { instant, set } from './outing-state.js';
import { text } from '../../text/en.js';
import { unit } from '../../text/unit.js';

/** @typedef {import('./checks.js').Check} Check */

/** What a person answers; the others follow from the plan. */
const ASKED = ['swell', 'wind', 'storms', 'rain', 'temperature', 'animals', 'lamps'];

const MARKS = { fine: '✓', no: '✕', open: '?', stale: '↻' };

/** Letters of the words of an answer, as internal/book has it. */
const MOST_WORDS = 300;

/**
 * The reason of a check in words, or ''.
 * @param {Check} check
 */
export function reason({ word, why, words }) {
  if (!why) return words ? `${text.go.names[/** @type {keyof typeof text.go.names} */ (word)]}: ${words}.` : '';
  const [code, ...values] = why;
  const says = text.go.why[/** @type {keyof typeof text.go.why} */ (code)];
  if (code === 'overSwell') return /** @type {any} */ (says)(height(values[0]), height(values[1]));
  return typeof says === 'function' ? /** @type {any} */ (says)(...values) : says;
}

/**
 * @param {{check: Check, outing: string, shore: import('../../data/shore-record.js').Shore, may: boolean}} props outing is its id
 */
export function CheckRow({ check, outing, shore, may }) {
  const t = text.go;
  const { word, state, atMs } = check;
  const asked = ASKED.includes(word);
  const changing = useSignal(false);
  const open = asked && may && (state === 'open' || state === 'stale' || changing.value);
  const name = t.names[/** @type {keyof typeof t.names} */ (word)];
  const question = !asked ? '' : word !== 'swell' ? t.asks[/** @type {'wind'} */ (word)] : shore.swellLimit === null ? t.asks.swellNone : t.asks.swell(height(shore.swellLimit));
  return html`<li class="check-row" data-check=${word} data-state=${state}>
    <h3>${name}</h3>
    <p class="check-state"><span class="mark" aria-hidden="true">${MARKS[state]}</span> ${t.state[state]}${check.value !== undefined && `, ${height(check.value)}`}
      ${atMs !== undefined && html` <span class="soft">${t.at(dayAndClock(new Date(atMs).toISOString(), shore.zone))}</span>`}</p>
    ${reason(check) && html`<p>${reason(check)}</p>`}
    ${open && html`<p class="soft">${question}</p><${Answer} check=${check} name=${name} shore=${shore} done=${async (/** @type {any} */ answer) => {
      await set(outing, { [`checks/${word}`]: { at: instant(), ...answer } });
      changing.value = false;
      announce(`${name}: ${t.state[answer.fine ? 'fine' : 'no']}`);
    }} />`}
    ${asked && may && !open && html`<button type="button" class="quiet" data-do="again" aria-label=${`${name}: ${t.again}`} onClick=${() => (changing.value = true)}>${t.again}</button>`}
  </li>`;
}

/** @param {{check: Check, name: string, shore: import('../../data/shore-record.js').Shore, done: (answer: {fine: boolean, value?: number, words?: string}) => void}} props */
function Answer({ check, name, shore, done }) {
  const t = text.go;
  const swell = check.word === 'swell';
  const typed = useSignal('');
  const against = useSignal(false);
  const words = useSignal('');
  const wrong = useSignal('');
  const id = `value-${check.word}`;
  /** @param {boolean} fine */
  const answer = (fine) => {
    const value = swell ? typedHeight(typed.value) : undefined;
    if (swell && (value === undefined || value < 0 || value > 30)) {
      wrong.value = t.needSwell;
      announce(t.needSwell);
      return document.getElementById(id)?.focus();
    }
    const limit = shore.swellLimit;
    const said = words.value.trim().slice(0, MOST_WORDS);
    done({ fine: swell && limit !== null ? fine && /** @type {number} */ (value) <= limit : fine, ...(value === undefined ? {} : { value }), ...(said ? { words: said } : {}) });
  };
  return html`<div class="answer">
    ${swell && html`<div class="field"><label for=${id}>${t.swell(unit())}</label>
      <input id=${id} type="text" inputmode="decimal" autocomplete="off" value=${typed.value} onInput=${(/** @type {any} */ e) => (typed.value = e.target.value)} aria-invalid=${Boolean(wrong.value)} aria-describedby=${id + '-wrong'} />
      <p id=${id + '-wrong'} class="wrong">${wrong.value}</p></div>`}
    ${against.value && html`<div class="field"><label for=${id + '-words'}>${t.words}</label>
      <input id=${id + '-words'} type="text" autocomplete="off" maxlength=${MOST_WORDS} value=${words.value} onInput=${(/** @type {any} */ e) => (words.value = e.target.value)} /></div>`}
    <div class="two">
      ${against.value
        ? html`<button type="button" data-do="yes" aria-label=${`${name}: ${t.yes}`} onClick=${() => (against.value = false)}>${text.confirm.not}</button>
          <button type="button" class="main" data-do="keep-no" aria-label=${`${name}: ${t.keep}`} onClick=${() => answer(false)}>${t.keep}</button>`
        : html`<button type="button" data-do="yes" aria-label=${`${name}: ${t.yes}`} onClick=${() => answer(true)}>${t.yes}</button>
          <button type="button" data-do="no" aria-label=${`${name}: ${t.against}`} onClick=${() => (against.value = true)}>${t.against}</button>`}
    </div>
  </div>`;
}
