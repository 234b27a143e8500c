// Go or no-go: the plan at a glance, its checks, and the decision, which is the person's.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { now } from '../parts/now.js';
import { clock, dayAndClock, dayName, localDay } from '../parts/when.js';
import { go, parts } from '../route.js';
import { household } from '../../data/household.js';
import { deleted, shores } from '../plan/shore-state.js';
import { CheckRow, reason } from './check-row.js';
import { checksOf, verdictOf } from './checks.js';
import { mayPlan, useBook } from './may-plan.js';
import { useLight } from './outing-light.js';
import { instant, outings, set } from './outing-state.js';
import { Panel } from './panel.js';
import { Tell } from './tell.js';
import { message } from './tell-message.js';
import { text } from '../../text/en.js';

/** @typedef {import('./outing.js').Outing} Outing */
/** @typedef {import('../../data/shore-record.js').Shore} Shore */

/** Letters of a reason that stays in the book. */
const MOST_WORDS = 300;

/** The outing of the path and its shore, if this phone has both. */
function outingHere() {
  const [, , of] = parts.value;
  const outing = outings.value.find(({ id }) => id === of);
  const shore = outing && [...shores.value, ...deleted.value].find(({ id }) => id === outing.shore);
  return { outing, shore };
}

/**
 * A page about the outing of the path, once the book has been read.
 * @param {string} name
 * @param {string} title
 * @param {(outing: Outing, shore: Shore) => any} content
 */
export function outingPanel(name, title, content) {
  const known = useBook();
  const { outing, shore } = outingHere();
  return html`<${Panel} name=${name} title=${title}>${!known ? null : outing && shore ? content(outing, shore) : html`<p>${text.trip.gone}</p>`}<//>`;
}

export const GoOrNoGo = () => outingPanel('go', text.go.title, (outing, shore) => html`<${Go} key=${outing.id} outing=${outing} shore=${shore} />`);

/** @param {{outing: Outing, shore: Shore}} props */
function Go({ outing, shore }) {
  const t = text.go;
  const may = mayPlan();
  const light = useLight(shore, outing.planned).value;
  const checks = checksOf(outing, shore, household.value, light, now.value);
  const verdict = verdictOf(checks);
  const { planned, ashore } = outing;
  const time = (/** @type {string} */ at) => clock(at, shore.zone);
  const day = planned ? dayName(localDay(Date.parse(planned.from), shore.zone), localDay(now.value, shore.zone)) : '';
  const begun = outing.startedMs !== null;
  return html`<div class="go">
    <header class="go-head">
      <p>${shore.name}${day && ` · ${day}`}</p>
      ${planned?.startBack && planned.offBy
        ? html`<p class="start-back">${t.startBack} <strong>${time(planned.startBack)}</strong></p>
          <p><span class="off">${t.offBy(time(planned.offBy))}</span> · ${t.usable(time(planned.from), time(planned.to))}${ashore && ` · ${t.due(time(ashore.dueBack))}`}</p>`
        : html`<p class="heed">${t.noWindow}</p>`}
    </header>
    ${begun ? html`<p>${outing.endedMs === null ? t.under : t.ended}</p><${Link} class="button main" to="/shore">${t.toStaff}<//>` : html`
      <section class="verdict" data-verdict=${verdict.word} aria-labelledby="verdict" aria-live="polite">
        <h2 id="verdict">${verdict.word === 'no' ? t.verdict.no : verdict.word === 'open' ? t.verdict.open(verdict.open.length) : t.verdict.nothing}</h2>
        ${verdict.against.map((check) => html`<p>${reason(check) || `${t.names[/** @type {'swell'} */ (check.word)]}: ${t.state.no}.`}</p>`)}
        ${verdict.word === 'no' && verdict.open.length > 0 && html`<p>${t.verdict.open(verdict.open.length)}. ${t.openWhy}</p>`}
        ${verdict.word === 'open' && html`<p>${t.openWhy}</p>`}
        <p>${t.look}</p>
        <${Decided} outing=${outing} zone=${shore.zone} />
      </section>
      <ul class="checks">${checks.map((check) => html`<${CheckRow} key=${check.word + (check.why?.join() ?? '')} check=${check} outing=${outing.id} shore=${shore} may=${may} />`)}</ul>
      ${!may && html`<p class="soft">${text.trip.notYours}</p>`}
      <${Packing} outing=${outing} may=${may} />`}
    <${PartyList} outing=${outing} />
    <${Tell} words=${message(outing, shore, household.value)} />
    <div class="go-tools">
      ${may && html`<${Link} class="button" to=${`/shore/outing/${outing.id}/change`} data-do="change">${t.change}<//>`}
      <${Link} class="button" to=${`/shore/slate/${outing.id}`} data-do="slate">${t.slate}<//>
    </div>
    ${may && !begun && html`<${Decide} outing=${outing} verdict=${verdict} />`}
  </div>`;
}

/**
 * What was decided, and in spite of what.
 * @param {{outing: Outing, zone: string}} props
 */
function Decided({ outing, zone }) {
  const t = text.go;
  const decision = outing.checks.decision;
  if (!decision) return null;
  const when = dayAndClock(decision.at, zone);
  return html`<p data-decided=${String(decision.fine)}><strong>${decision.fine ? t.decidedGo(when) : t.decidedStay(when)}</strong> ${decision.words && t.inSpite(decision.words)}</p>`;
}

/** @param {{outing: Outing, verdict: ReturnType<typeof verdictOf>}} props */
function Decide({ outing, verdict }) {
  const t = text.go;
  const asking = useSignal(false);
  const against = [...verdict.against, ...verdict.open];
  const names = () => [...new Set(against.map(({ word, state }) => `${t.names[/** @type {'swell'} */ (word)]} (${t.state[state]})`))].join(', ');
  /** @param {boolean} fine */
  const decide = async (fine) => {
    const words = fine && against.length > 0 ? names().slice(0, MOST_WORDS) : '';
    await set(outing.id, { 'checks/decision': { at: instant(), fine, ...(words ? { words } : {}) } });
    asking.value = false;
    if (fine) return go(`/shore/start/${outing.id}`);
    announce(t.decidedStay(''));
    document.getElementById('page')?.focus();
    scrollTo(0, 0);
  };
  if (asking.value) {
    return html`<div class="confirm" role="group" aria-labelledby="go-anyway">
      <h2 id="go-anyway" tabindex="-1" ref=${(/** @type {HTMLElement | null} */ e) => e?.focus()}>${t.goAsk}</h2>
      <p>${t.goWhat(against.map((check) => reason(check) || `${t.names[/** @type {'swell'} */ (check.word)]}: ${t.state[check.state]}.`))}</p>
      <div class="two">
        <button type="button" data-do="leave" onClick=${() => (asking.value = false)}>${text.confirm.not}</button>
        <button type="button" class="grave" data-do="confirm" onClick=${() => decide(true)}>${t.goAnyway}</button>
      </div>
    </div>`;
  }
  const stay = html`<button type="button" class=${verdict.word === 'no' ? 'main' : ''} data-do="stay" onClick=${() => decide(false)}>${t.stay}</button>`;
  return html`<div class="decide">
    ${verdict.word === 'nothing'
      ? html`${stay}<button type="button" class="main" data-do="go" onClick=${() => decide(true)}>${t.goOn}</button>`
      : html`<button type="button" data-do="go-anyway" onClick=${() => (asking.value = true)}>${t.goAnyway}</button>${stay}`}
  </div>`;
}

/** @param {{outing: Outing, may: boolean}} props */
function Packing({ outing, may }) {
  const t = text.go;
  /** @type {[string, any[]][]} */
  const lists = [['gear', outing.gear], ['containers', outing.containers]];
  if (outing.gear.length + outing.containers.length === 0) return null;
  return html`<section aria-labelledby="packing"><h2 id="packing">${t.gear}</h2>
    <ul class="kit-list">${lists.flatMap(([name, list]) => list.map(({ word, ...one }) => html`<li key=${word} data-thing=${word}>
      <label class="check"><input type="checkbox" disabled=${!may} checked=${one.packed} onChange=${() => set(outing.id, { [`${name}/${word}`]: { ...one, packed: !one.packed } })} /> ${one.what}</label>
    </li>`))}</ul></section>`;
}

/** @param {{outing: Outing}} props */
function PartyList({ outing }) {
  const t = text.trip;
  const names = new Map(outing.party.map(({ id, name }) => [id, name]));
  if (outing.party.length === 0) return null;
  return html`<section aria-labelledby="party"><h2 id="party">${text.go.party}</h2>
    <ul class="party-list">${outing.party.map((one) => html`<li>
      ${one.as === 'child' && html`<span class="number">${one.number ?? '?'}</span> `}<strong>${one.name}</strong>
      <span class="soft"> ${one.as === 'child' ? `${t.child}${one.with && names.has(one.with) ? ` · ${t.with.toLowerCase()} ${names.get(one.with)}` : ''}` : t.doing[one.does]}</span>
    </li>`)}</ul></section>`;
}
