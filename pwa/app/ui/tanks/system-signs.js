// Open signs: what was seen, what it does to the wait, what to do now. An adult looks into
// each and settles it in words; one that the authority must hear of stops everything.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Field } from '../parts/field.js';
import { dayAndClock } from '../parts/when.js';
import { write } from '../../data/book.js';
import { Thumb } from '../shore/thumb.js';
import { adultLooks, observer } from './check-who.js';
import { signWords } from './due-acts.js';
import { events, may, nameOf, writeEvent, zone } from './picture-state.js';
import { wordsWrong } from './specimen-act.js';
import { gradeWord, happened } from './system-log.js';
import { tanks as text } from '../../text/en-tanks.js';
import { text as all } from '../../text/en.js';

/** @typedef {import('./picture-state.js').OpenSign} OpenSign */

/** Grades that an adult may give, the mildest first. */
const GRADES = /** @type {const} */ (['harmless', 'watch', 'pest', 'notify']);

/** @param {{open: OpenSign[]}} props */
export function OpenSigns({ open }) {
  if (open.length === 0) return null;
  return html`<section class="signs" aria-labelledby="signs"><h2 id="signs" tabindex="-1">${text.signs.title(open.length)}</h2>
    ${open.map((sign) => html`<${Sign} key=${sign.id} sign=${sign} />`)}</section>`;
}

/** @param {{sign: OpenSign}} props */
function Sign({ sign }) {
  const t = text.signs;
  const kind = sign.id.startsWith('kind:');
  const grave = sign.grade === 'notify';
  const fields = events.value.find(({ id }) => id === sign.id);
  const one = fields && happened(fields);
  const by = one?.by && nameOf(`member/${one.by}`);
  return html`<article class=${`sign ${grave ? 'grave' : ''}`} data-sign=${sign.id} data-grade=${sign.grade}>
    <h3>${kind ? t.kind(signWords(sign.id)) : signWords(sign.id) || t.nameless}</h3>
    <p><strong>${gradeWord(sign.grade)}</strong>. ${/** @type {Record<string, string>} */ (t.means)[sign.grade]}</p>
    <p class="soft">${t.seen(nameOf(sign.of), dayAndClock(sign.at, zone.value), by ?? '')}${one?.note ? ` ${one.note}` : ''}</p>
    ${one && one.photos.length > 0 && html`<ul class="thumbs">${one.photos.map((sha, i) => html`<li key=${sha}><${Thumb} sha=${sha} alt=${all.photo.alt(i + 1)} /></li>`)}</ul>`}
    ${grave ? html`<ol class="steps">${(kind ? t.kindSteps : t.notifySteps).map((step) => html`<li>${step}</li>`)}</ol>` : html`<p>${/** @type {Record<string, string>} */ (t.doNow)[sign.grade]}</p>`}
    ${!may.value.decide ? html`<p class="soft">${t.adult}</p>` : kind ? (may.value.overrule ? html`<${Isolation} of=${sign.of} />` : html`<p class="soft">${t.keeper}</p>`)
      : html`${one?.what === 'sign' && html`<${Grade} one=${one} />`}<${Settle} sign=${sign} />`}
  </article>`;
}

/** What is a pest or must be told of gets no milder by a touch: it is settled, in words. */
const milderThan = (/** @type {string} */ now, /** @type {string} */ is) => ['pest', 'notify'].includes(now) && GRADES.indexOf(/** @type {any} */ (is)) < GRADES.indexOf(/** @type {any} */ (now));

/**
 * An adult grades it anew: what a child raised may be harmless.
 * @param {{one: import('./system-log.js').Happened}} props
 */
function Grade({ one }) {
  const t = text.signs;
  const now = one.value.grade;
  const others = GRADES.filter((is) => is !== now && !milderThan(now, is));
  const change = async (/** @type {string} */ grade) => {
    const kept = await write('event', one.id, { sign: { ...one.value, grade } });
    announce(kept ? t.graded(gradeWord(grade)) : text.unkept);
    document.getElementById('signs')?.focus();
  };
  if (others.length === 0) return null;
  return html`<details class="grade"><summary>${t.grade}</summary><p class="soft">${t.gradeHint}</p>
    <div class="grades">${others.map((is) => html`<button key=${is} type="button" data-grade=${is} onClick=${() => change(is)}><strong>${gradeWord(is)}</strong> <span class="soft">${t.short[is]}</span></button>`)}</div></details>`;
}

/** @param {{sign: OpenSign}} props */
function Settle({ sign }) {
  const t = text.signs;
  const how = useSignal('');
  const wrong = useSignal('');
  const settle = async (/** @type {Event} */ event) => {
    event.preventDefault();
    const words = how.value.trim();
    wrong.value = observer.peek() && !adultLooks.peek() ? t.adult : wordsWrong(words, t.needHow);
    if (wrong.value) {
      announce(wrong.value);
      return document.getElementById(`how-${sign.id}`)?.focus();
    }
    const { kept } = await writeEvent('settled', { of: sign.of, by: observer.peek(), sign: sign.id, how: words });
    announce(kept ? t.settled : text.unkept);
    document.getElementById('page')?.focus();
  };
  return html`<details class="settle"><summary>${t.settle}</summary><form onSubmit=${settle} novalidate>
    <p class="soft">${sign.grade === 'notify' ? t.settleNotify : t.settleHint}</p>
    <${Field} id=${`how-${sign.id}`} label=${t.how} value=${how} mode="text" lines="2" wrong=${wrong.value} />
    <button type="submit" data-do="settle">${t.settleDo}</button></form></details>`;
}

/**
 * A keeper who may keep a controlled kind says so, with a reason.
 * @param {{of: string}} props
 */
function Isolation({ of }) {
  const t = text.signs;
  const reason = useSignal('');
  const wrong = useSignal('');
  const act = async (/** @type {Event} */ event) => {
    event.preventDefault();
    const words = reason.value.trim();
    wrong.value = wordsWrong(words, t.needReason);
    if (wrong.value) return document.getElementById('isolation')?.focus();
    const { kept } = await writeEvent('overruled', { of, by: observer.peek(), what: 'isolation', reason: words });
    announce(kept ? t.isolationDone : text.unkept);
    document.getElementById('page')?.focus();
  };
  return html`<details class="settle"><summary>${t.isolation}</summary><form onSubmit=${act} novalidate><p class="soft">${t.isolationHint}</p>
    <${Field} id="isolation" label=${t.reason} value=${reason} mode="text" lines="2" wrong=${wrong.value} />
    <button type="submit" class="grave" data-do="isolation">${t.isolationDo}</button></form></details>`;
}
