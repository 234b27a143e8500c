// The verdict at length: what gave it, what is not known, what the rules ask, whose they are.
// While the next answer is reckoned nothing of the last one is said, but what was being filled
// in stays under the thumb, and the page does not jump.

import { useLayoutEffect, useRef } from 'preact/hooks';
import { html } from '../parts/html.js';
import { called, UNSURE } from '../parts/kinds.js';
import { Link } from '../parts/link.js';
import { dayAndClock } from '../parts/when.js';
import { Choices } from './find-parts.js';
import { FactFields, factsAsked } from './find-facts.js';
import { howMuch, what } from './find-words.js';
import { findNamed, nameOf, zoneOf } from './finds-state.js';
import { answer, answers } from './verdict-state.js';
import { VerdictShape } from './verdict.js';
import { takes } from '../../text/en-takes.js';
import { verdict as t } from '../../text/en-verdict.js';

/** @typedef {import('./verdict-state.js').Verdict} Verdict */

/**
 * @param {{of: Verdict | undefined, taxon: string, saved?: boolean, past?: boolean, word?: boolean, own?: boolean, facts?: import('./find-fields.js').Facts, set?: (change: any) => void}} props
 *   saved: it is about a find that is on file; past: of an earlier outing, of which nothing is asked any more; word: whether the verdict's word stands here, and not beside a button;
 *   own: the form has fields of its own for size and mass; facts and set: what rules may ask of the find, where it can be said here
 */
export function VerdictPanel({ of, taxon, saved, past, word, own, facts, set }) {
  const is = of?.verdict ?? '';
  const last = useRef(/** @type {{taxon: string, of: Verdict, facts: Set<string>} | undefined} */ (undefined));
  const box = useRef(/** @type {HTMLElement | null} */ (null));
  if (of) last.current = { taxon, of, facts: new Set([...(last.current?.taxon === taxon ? last.current.facts : []), ...factsAsked(of)]) };
  const open = last.current?.taxon === taxon ? last.current : undefined;
  useLayoutEffect(() => {
    const element = box.current;
    if (!element) return;
    if (of) element.style.minHeight = '';
    else if (open && !element.style.minHeight) element.style.minHeight = element.dataset.height ?? '';
    if (of) element.dataset.height = `${element.offsetHeight}px`;
  });
  return html`<section ref=${box} class="verdict" aria-labelledby="verdict" data-panel-verdict=${is || 'none'}>
    <h2 id="verdict">${saved ? t.title : takes.may}</h2>
    ${(saved || word) && html`<p class="verdict-word"><${VerdictShape} of=${is} /> <strong>${takes.words[is]}</strong></p>`}
    ${of ? html`<${Told} key="told" of=${of} taxon=${taxon} />` : !open && html`<p key="waits">${t.waiting}</p>`}
    ${open && set && facts && html`<${FactFields} key="facts" asked=${open.facts} of=${open.of} own=${own} facts=${facts} set=${set} />`}
    ${open && !past && html`<${Asks} key="asks" of=${open.of} />`}
    ${of && html`<${Whose} key="whose" of=${of} />`}
  </section>`;
}

/** Facts of a person, which stand in House. */
const PAPERS = ['age', 'licence', 'consent'];

/** @param {{list: {text: string}[]}} props */
const Points = ({ list }) => html`<ul class="points">${[...new Set(list.map(({ text }) => text))].map((words) => html`<li key=${words}>${words}</li>`)}</ul>`;

/** @param {Verdict} of */
const byLaw = ({ sets }) => sets.some(({ layer }) => layer !== 'household');

/** @param {{of: Verdict, taxon: string}} props */
function Told({ of, taxon }) {
  const law = of.spoke.filter(({ house }) => !house);
  const fine = of.verdict === 'within' || of.verdict === 'atLimit';
  const gave = law.filter(({ verdict, question, what }) => verdict === of.verdict && !question && !(fine && what === 'take'));
  const limits = law.filter((one) => one.count && !gave.includes(one));
  const missing = of.missing.filter(({ fact }) => fact !== 'answer');
  if (!byLaw(of)) return html`<${NoRules} taxon=${taxon} />`;
  return html`
    <${Points} list=${[...gave, ...limits]} />
    ${fine && html`<p data-says>${of.text}</p>`}
    ${of.verdict === 'over' && html`<${Counted} finds=${gave.flatMap(({ count }) => count?.finds ?? [])} />`}
    ${missing.length > 0 && html`<h3>${t.missing}</h3>
      <ul class="points" data-missing>${missing.map(({ fact, text }) => html`<li key=${fact} data-fact=${fact}>${text}</li>`)}</ul>`}
    ${missing.some(({ fact }) => fact === 'shore') && html`<${Link} class="button" to="/house/rules">${t.whichShores}<//>`}
    ${missing.some(({ fact }) => PAPERS.includes(fact)) && html`<${Link} class="button" to="/house/members">${t.papers}<//>`}`;
}

/**
 * What the rules ask, which holds for the whole outing.
 * @param {{of: Verdict}} props
 */
function Asks({ of }) {
  const asks = of.spoke.filter(({ question }) => question);
  return asks.length > 0 && html`${asks.map(({ question, question: { id, ask } }) => html`<${Choices} key=${id} name=${`ask-${id}`} legend=${ask} is=${String(answers.value[id] ?? '')}
      options=${[['true', t.yes], ['false', t.no]]} choose=${(/** @type {string} */ said) => answer(question, said === 'true')} />`)}
    <p class="soft">${t.remembered}</p>`;
}

/** @param {{of: Verdict}} props */
function Whose({ of }) {
  const own = of.spoke.filter(({ house }) => house);
  return html`
    ${of.duties.length > 0 && html`<h3>${t.duties}</h3><${Points} list=${of.duties} />`}
    ${of.putBack !== 'unknown' && html`<p data-return=${of.putBack}>${takes.putBack[of.putBack]}</p>`}
    ${own.length > 0 && html`<section class="ours" aria-labelledby="ours" data-ours=${of.household}><h3 id="ours">${t.ours}</h3><p class="soft">${t.oursWhy}</p><${Points} list=${own} /></section>`}
    ${of.sets.length > 0 && html`<details><summary>${t.who}</summary>${of.sets.map((set) => html`<section key=${set.id} data-set=${set.id}><h3>${set.name}</h3>
      <p>${t.authority(set.authority, set.ask)} ${t.source(set.source, set.sourceDate)} ${set.checked ? t.checked(set.checked.on, set.checked.by) : t.unchecked}
        ${set.stale ? ` ${t.stale}` : ''}${set.covers === 'unsure' ? ` ${t.unsureHere}` : ''}</p>
      <${Points} list=${of.spoke.filter((one) => one.set === set.id)} /></section>`)}
      <p>${t.above}</p></details>`}`;
}

/**
 * The finds that a limit counts, each with the way to it.
 * @param {{finds: string[]}} props
 */
function Counted({ finds }) {
  const rows = [...new Set(finds)].flatMap((id) => findNamed(id) ?? []);
  if (rows.length === 0) return null;
  return html`<h3>${t.counted}</h3><ul class="finds-list" data-counted>${rows.map((find) => html`<li key=${find.id}><${Link} to=${`/shore/find/${find.id}`}>
    <span><strong>${howMuch(find)} ${what(find)}</strong><span>${[nameOf(find.by), dayAndClock(find.fields.at, zoneOf(find.shore))].filter(Boolean).join(', ')}</span></span><//></li>`)}</ul>`;
}

/**
 * Whom to ask what.
 * @param {{taxon: string}} props
 */
function NoRules({ taxon }) {
  return html`<p><strong>${takes.noRules}</strong></p><p>${t.whom}</p>
    <h3>${t.askThem}</h3><ul class="points">${t.questions(taxon === UNSURE || !taxon ? t.unsure : called(taxon)).map((words) => html`<li key=${words}>${words}</li>`)}</ul>`;
}
