// What rules may ask of a find beside how much and who: how large, how heavy, with what it was
// taken. It stands in a form only where a rule asks for it.

import { html } from '../parts/html.js';
import { records } from '../../data/book.js';
import { factsOf } from './find-fields.js';
import { remember } from './verdict-state.js';
import { text } from '../../text/en.js';
import { verdict as t } from '../../text/en-verdict.js';

/** @typedef {import('./find-fields.js').Facts} Facts */
/** @typedef {import('./verdict-state.js').Verdict} Verdict */

const WORDS = /** @type {const} */ (['gear', 'use', 'substrate']);

/**
 * The facts that rules ask for: those that are missing, and those in words that a rule has spoken of.
 * @param {Verdict} of
 */
export const factsAsked = ({ missing, spoke }) => [...missing.map(({ fact }) => fact), ...spoke.map(({ what }) => what).filter((what) => WORDS.includes(what))];

/**
 * The words that the rules on file have for a fact.
 * @param {Verdict} of
 * @param {typeof WORDS[number]} fact
 * @returns {string[]}
 */
function wordsFor({ spoke }, fact) {
  const words = spoke.filter(({ what }) => what === fact).flatMap(({ set, rule }) => {
    const said = records('ruleset').value.find(({ id }) => id === set)?.fields.document?.rules?.[rule]?.[fact];
    return [...(said?.only ?? []), ...(said?.never ?? [])];
  });
  return [...new Set(words)];
}

/** What is none of the words of a rule. */
const OTHER = 'other';

/** @param {{asked: Set<string>, of: Verdict, own?: boolean, facts: Facts, set: (change: Partial<Facts>) => void}} props */
export function FactFields({ asked, of, own, facts, set }) {
  const f = text.oneFind;
  const { wrong } = factsOf(facts);
  /** @param {'sizeMm' | 'massG' | 'share'} name @param {string} label */
  const number = (name, label) => html`<div class="field"><label for=${name}>${label}</label>
    <input id=${name} type="text" inputmode="decimal" autocomplete="off" maxlength="10" aria-invalid=${Boolean(wrong[name])} aria-describedby=${`${name}-wrong`} value=${facts[name]} onInput=${(/** @type {any} */ e) => set({ [name]: e.target.value })} />
    <p id=${`${name}-wrong`} class="wrong">${wrong[name]}</p></div>`;
  /** @param {'axis' | 'weighed'} name @param {string} label @param {Record<string, string>} options */
  const list = (name, label, options) => html`<div class="field"><label for=${name}>${label}</label>
    <select id=${name} value=${facts[name] || Object.keys(options)[0]} onChange=${(/** @type {any} */ e) => set({ [name]: e.target.value })}>
      ${Object.entries(options).map(([value, words]) => html`<option value=${value}>${words}</option>`)}</select></div>`;
  return html`
    ${!own && asked.has('size') && html`<div class="pair">${number('sizeMm', f.sizeMm)}${list('axis', f.axis, f.axes)}</div>`}
    ${!own && asked.has('mass') && html`<div class="pair">${number('massG', f.massG)}${list('weighed', f.weighed, f.weighings)}</div>`}
    ${asked.has('share') && number('share', t.share)}
    ${WORDS.filter((fact) => asked.has(fact)).map((fact) => html`<${Words} key=${fact} fact=${fact} words=${wordsFor(of, fact)} is=${facts[fact]} set=${(/** @type {string[]} */ words) => {
      remember({ [fact]: words });
      set({ [fact]: words });
    }} />`)}`;
}

/**
 * Some of the rules' own words, or something else.
 * @param {{fact: typeof WORDS[number], words: string[], is: string[] | null | undefined, set: (words: string[]) => void}} props
 */
function Words({ fact, words, is, set }) {
  const has = (/** @type {string} */ word) => Boolean(is?.includes(word));
  const turn = (/** @type {string} */ word, /** @type {boolean} */ on) => set([...(is ?? []).filter((one) => one !== word), ...(on ? [word] : [])]);
  return html`<fieldset class="choices" data-words=${fact}><legend>${t.words[fact]}</legend>
    <div class="options">${[...words, OTHER].map((word) => html`<label class="option" key=${word}><input type="checkbox" name=${fact} value=${word} checked=${has(word)}
      onChange=${(/** @type {any} */ e) => turn(word, e.target.checked)} /> ${word === OTHER ? t.other : word}</label>`)}
      ${fact === 'substrate' && html`<label class="option"><input type="checkbox" name=${fact} value="" checked=${is?.length === 0} onChange=${() => set([])} /> ${t.nothing}</label>`}</div>
  </fieldset>`;
}
