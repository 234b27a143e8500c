// The verdict on an imagined find with all its parts. Its questions are answered for this try
// alone.

import { html } from '../parts/html.js';
import { VerdictShape } from '../shore/verdict.js';
import { Radios } from './inputs.js';
import { Link } from '../parts/link.js';
import { monthDay } from './days.js';
import { isKeeper } from './on-file.js';
import { sourceWords } from './says-list.js';
import { rules } from '../../text/en-rules.js';
import { takes } from '../../text/en-takes.js';
import { verdict as v } from '../../text/en-verdict.js';

/** @param {{of: any, asked: boolean, answers: import('@preact/signals').Signal<Record<string, boolean>>}} props asked: whether the find is whole */
export function TryVerdict({ of, asked, answers }) {
  const t = rules.try_;
  const is = of?.verdict ?? '';
  return html`<section class="try-verdict" aria-labelledby="try-says" data-try=${is || 'none'} data-panel-verdict=${is || 'none'}>
    <h2 id="try-says" tabindex="-1">${v.title}</h2>
    <p class="imagined">${t.imagined}</p>
    <p class="verdict-word" aria-live="polite"><${VerdictShape} of=${is} /> <strong>${takes.words[is]}</strong></p>
    ${of ? html`<${Parts} of=${of} answers=${answers} />` : html`<p class="soft">${asked ? t.notReckoned : t.needKind}</p>`}
  </section>`;
}

/** @param {{of: any, answers: import('@preact/signals').Signal<Record<string, boolean>>}} props */
function Parts({ of, answers }) {
  const t = rules.try_;
  const house = of.sets.filter((/** @type {any} */ one) => one.layer === 'household').map((/** @type {any} */ one) => one.id);
  const ours = of.spoke.filter((/** @type {any} */ one) => house.includes(one.set));
  const missing = of.missing.filter((/** @type {any} */ one) => one.fact !== 'answer');
  // The same question of two sets is answered once.
  /** @type {Map<string, string[]>} */
  const asks = new Map();
  for (const { question } of of.spoke) if (question) asks.set(question.ask, [...(asks.get(question.ask) ?? []), question.id]);
  const duties = [...new Set(of.duties.map((/** @type {any} */ one) => one.text))];
  return html`<p data-says>${of.text}</p>
    ${missing.length > 0 && html`<h3>${v.missing}</h3><ul class="points" data-missing>${missing.map((/** @type {any} */ one) => html`<li key=${one.fact} data-fact=${one.fact}>${one.text}</li>`)}</ul>
      ${isKeeper.value && missing.some((/** @type {any} */ one) => ['licence', 'consent', 'age'].includes(one.fact)) && html`<${Link} class="button" to="/house/rules/papers">${t.papers}<//>`}`}
    ${asks.size > 0 && html`<h3>${t.asks}</h3>
      ${[...asks].map(([ask, ids]) => html`<${Radios} key=${ask} name=${`ask-${ids[0]}`} legend=${ask} value=${String(answers.value[ids[0]] ?? '')} options=${[['true', v.yes], ['false', v.no]]}
        set=${(/** @type {string} */ said) => (answers.value = { ...answers.peek(), ...Object.fromEntries(ids.map((id) => [id, said === 'true'])) })} />`)}<p class="soft">${t.answersHere}</p>`}
    ${duties.length > 0 && html`<h3>${v.duties}</h3><ul class="points" data-duties>${duties.map((words) => html`<li key=${words}>${words}</li>`)}</ul>`}
    ${of.putBack !== 'unknown' && html`<p data-return=${of.putBack}>${takes.putBack[of.putBack]}</p>`}
    ${ours.length > 0 && html`<section class="ours" data-household=${of.household}><h3>${rules.own}</h3><p class="soft">${rules.ownWhy}</p><${Points} list=${ours} words=${t.ours} /></section>`}
    <h3>${t.how}</h3>
    <${Points} list=${of.spoke.filter((/** @type {any} */ one) => one.set === '')} />
    ${of.sets.filter((/** @type {any} */ one) => one.layer !== 'household').map((/** @type {any} */ set) => html`<section class="try-set" key=${set.id} data-set=${set.id}><h4>${set.name}</h4>
      <p class="soft">${v.authority(set.authority, set.ask)} ${rules.set.source}: ${sourceWords(set)}. ${set.checked ? v.checked(monthDay(set.checked.on), set.checked.by) : rules.age.never} ${set.stale && set.checked && v.stale} ${set.covers === 'unsure' && v.unsureHere}</p>
      <${Points} list=${of.spoke.filter((/** @type {any} */ one) => one.set === set.id)} /></section>`)}
    <p class="heed">${rules.above}</p>`;
}

/** @param {{list: any[], words?: Record<string, string>}} props */
function Points({ list, words = takes.words }) {
  return list.length > 0 && html`<ul class="points" data-spoke>${list.map((one, i) => html`<li key=${i} data-rule=${one.rule} data-what=${one.what} data-verdict=${one.verdict}>
    <span>${one.rule && html`<strong>${one.rule}: </strong>`}${one.text} <span class="soft">${words[one.verdict]}</span></span></li>`)}</ul>`;
}
