// The verdict at length: what gave it, what is not known, what the rules ask, whose they are.

import { html } from '../parts/html.js';
import { called, UNSURE } from '../parts/kinds.js';
import { Choices } from './find-parts.js';
import { answer, answers } from './verdict-state.js';
import { VerdictShape } from './verdict.js';
import { takes } from '../../text/en-takes.js';
import { verdict as t } from '../../text/en-verdict.js';

/** @typedef {import('./verdict-state.js').Verdict} Verdict */

/** @param {{of: Verdict | undefined, taxon: string, children?: any}} props children stand below what is not known */
export function VerdictPanel({ of, taxon, children }) {
  const is = of?.verdict ?? '';
  return html`<section class="verdict" aria-labelledby="verdict" data-panel-verdict=${is || 'none'}>
    <h2 id="verdict">${takes.may}</h2>
    <p class="verdict-word"><${VerdictShape} of=${is} /> <strong>${takes.words[is]}</strong></p>
    ${of ? html`<${Told} of=${of} taxon=${taxon}>${children}<//>` : html`<p>${t.waiting}</p>`}
  </section>`;
}

/** @param {{of: Verdict, taxon: string, children?: any}} props */
function Told({ of, taxon, children }) {
  const house = of.sets.filter(({ layer }) => layer === 'household').map(({ id }) => id);
  const law = of.spoke.filter(({ set }) => !house.includes(set));
  const own = of.spoke.filter(({ set }) => house.includes(set));
  const covered = of.sets.some(({ layer }) => layer !== 'household');
  const gave = law.filter(({ verdict, question }) => verdict === of.verdict && !question);
  const limits = law.filter((one) => one.count && !gave.includes(one));
  const asks = of.spoke.filter(({ question }) => question);
  const back = of.putBack !== 'unknown' && takes.putBack[of.putBack];
  /** @param {any[]} list */
  const points = (list) => html`<ul class="points">${[...new Set(list.map(({ text }) => text))].map((words) => html`<li key=${words}>${words}</li>`)}</ul>`;
  return html`
    ${!covered ? html`<${NoRules} taxon=${taxon} />` : of.verdict === 'within' || of.verdict === 'atLimit' ? html`<p data-says>${of.text}</p>` : ''}
    ${covered && points(gave)}
    ${limits.length > 0 && points(limits)}
    ${of.missing.some(({ fact }) => fact !== 'answer') && html`<h3>${t.missing}</h3>
      <ul class="points" data-missing>${of.missing.filter(({ fact }) => fact !== 'answer').map(({ fact, text }) => html`<li key=${fact} data-fact=${fact}>${text}</li>`)}</ul>`}
    ${children}
    ${asks.map(({ question: { id, ask } }) => html`<${Choices} key=${id} name=${`ask-${id}`} legend=${ask} is=${String(answers.value[id] ?? '')}
      options=${[['true', t.yes], ['false', t.no]]} choose=${(/** @type {string} */ said) => answer(id, said === 'true')} />`)}
    ${asks.length > 0 && html`<p class="soft">${t.remembered}</p>`}
    ${of.duties.length > 0 && html`<h3>${t.duties}</h3>${points(of.duties)}`}
    ${back && html`<p data-return=${of.putBack}>${back}</p>`}
    ${own.length > 0 && html`<section class="ours" aria-labelledby="ours" data-household=${of.household}><h3 id="ours">${t.ours}</h3><p class="soft">${t.oursWhy}</p>${points(own)}</section>`}
    ${of.sets.length > 0 && html`<${Who} of=${of} law=${law} />`}`;
}

/**
 * Whom to ask what.
 * @param {{taxon: string}} props
 */
export function NoRules({ taxon }) {
  return html`<p><strong>${takes.noRules}</strong></p><p>${t.whom}</p>
    <h3>${t.askThem}</h3><ul class="points">${t.questions(taxon === UNSURE || !taxon ? t.unsure : called(taxon)).map((words) => html`<li key=${words}>${words}</li>`)}</ul>`;
}

/** @param {{of: Verdict, law: any[]}} props */
function Who({ of, law }) {
  return html`<details><summary>${t.who}</summary>${of.sets.map((set) => html`<section key=${set.id} data-set=${set.id}><h3>${set.name}</h3>
    <p>${t.authority(set.authority, set.ask)} ${t.source(set.source, set.sourceDate)} ${set.checked ? t.checked(set.checked.on, set.checked.by) : t.unchecked}
      ${set.stale ? ` ${t.stale}` : ''}${set.covers === 'unsure' ? ` ${t.unsureHere}` : ''}</p>
    <ul class="points">${law.filter((one) => one.set === set.id).map((one, i) => html`<li key=${i}>${one.text}</li>`)}</ul></section>`)}
    <p>${t.above}</p></details>`;
}
