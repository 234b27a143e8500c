// The jar walk: every system in shelf order on one page. All looked the same, except those
// that are marked; one touch notes the rest, then what was seen is said jar by jar.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { recallKinds } from '../parts/kinds.js';
import { dropDraft, keepDraft, keptDraft } from '../../data/drafts.js';
import { Page } from '../house/page.js';
import { adultLooks, WhoLooks } from './check-who.js';
import { SeenForm } from './check-seen.js';
import { recallSigns } from './check-signs.js';
import { checkNow, takeBack, topUpNow } from './due-acts.js';
import { shelfOrder } from './home.js';
import { may, nameOf, namesOfAll, picture, tankOf } from './picture-state.js';
import { Reckoned } from './system-reckoned.js';
import { StateWord } from './strip.js';
import { UNTOUCHED, outcome, stops } from './walk-list.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @typedef {import('./walk-list.js').Step} Step */
/** @typedef {import('./picture-state.js').SystemState} SystemState */
/**
 * What a walk has noted, and where something was seen that is still to be said.
 * @typedef {{noted: import('./due-acts.js').Done, left: string[]}} Walked
 */

const KEY = 'tanks:walk';
/** What was seen is still to be said. */
const AFTER = 'tanks:walked';

export function WalkPage() {
  const t = text.walk;
  useEffect(() => {
    recallKinds();
    recallSigns();
  }, []);
  const walked = useSignal(/** @type {Walked | undefined} */ (undefined));
  useEffect(() => void keptDraft(AFTER).then((kept) => kept && (walked.value ??= kept)), []);
  const set = (/** @type {Walked | undefined} */ is) => {
    walked.value = is;
    if (is && is.left.length > 0) keepDraft(AFTER, is);
    else dropDraft(AFTER);
  };
  const now = picture.value;
  return html`<${Page} title=${t.title} to="/tanks" back=${text.back}>
    ${!may.value.note ? html`<p>${text.reads}</p>` : !now ? html`<${Reckoned} />`
      : walked.value ? html`<${After} walked=${walked.value} set=${set} />`
      : html`<${Reckoned} /><${Shelf} list=${stops(shelfOrder(now.systems))} done=${set} />`}
  <//>`;
}

/** @param {{list: SystemState[], done: (walked: Walked) => void}} props */
function Shelf({ list, done }) {
  const t = text.walk;
  const steps = useSignal(/** @type {Record<string, Step>} */ ({}));
  const busy = useSignal(false);
  const says = useSignal('');
  // A walk is long and the phone may be needed for something else meanwhile.
  useEffect(() => void keptDraft(KEY).then((kept) => kept && Object.keys(steps.peek()).length === 0 && (steps.value = kept)), []);
  const of = (/** @type {string} */ key) => steps.value[key] ?? UNTOUCHED;
  const put = (/** @type {Record<string, Step>} */ next) => {
    steps.value = next;
    keepDraft(KEY, next);
  };
  const set = (/** @type {string} */ key, /** @type {Partial<Step>} */ change) => put({ ...steps.peek(), [key]: { ...of(key), ...change } });
  const { same, seen, topUps } = outcome(list, steps.value);
  const allTopped = topUps.length === list.length;
  const save = async () => {
    if (busy.value) return;
    busy.value = true;
    says.value = '';
    const made = [...(await Promise.all(same.map((key) => checkNow(key)))), ...(await Promise.all(topUps.map(topUpNow)))];
    const kept = made.every((one) => one.kept);
    busy.value = false;
    const words = t.noted(same.length, topUps.length);
    announce(kept ? words : text.unkept);
    if (!kept) return void (says.value = text.unkept);
    await dropDraft(KEY);
    scrollTo(0, 0);
    done({ noted: { says: words, ids: made.map(({ id }) => id), kept }, left: seen });
  };
  if (list.length === 0) return html`<p>${t.none}</p>`;
  return html`<p>${t.what}</p><${WhoLooks} />
    <div class="walk-all"><button type="button" data-do="top-up-all" aria-pressed=${allTopped} onClick=${() => put(Object.fromEntries(list.map(({ key }) => [key, { ...of(key), topUp: !allTopped }])))}>${t.topUpAll}</button></div>
    <ol class="walk" data-walk=${list.length}>${list.map((state) => html`<${Stop} key=${state.key} state=${state} step=${of(state.key)} set=${(/** @type {Partial<Step>} */ change) => set(state.key, change)} />`)}</ol>
    <p class="wrong" role="alert">${says.value}</p>
    <div class="bottom"><button type="button" class="main" data-do="walked" aria-disabled=${busy.value} onClick=${save}>${seen.length === 0 ? t.doAll(same.length) : t.do(same.length, seen.length)}</button></div>`;
}

/** @param {{state: SystemState, step: Step, set: (change: Partial<Step>) => void}} props */
function Stop({ state, step, set }) {
  const t = text.walk;
  const name = nameOf(state.key) || text.unnamed;
  const who = text.few(namesOfAll(state.residents));
  const line = state.tanks.map((id) => tankOf(id)?.fillLine?.note).filter(Boolean).join(', ');
  const looked = (/** @type {import('./walk-list.js').Looked} */ is) => set({ looked: step.looked === is ? 'same' : is });
  return html`<li data-system=${state.key} data-looked=${step.looked}>
    <p><strong>${name}</strong> <span class="soft">${who}${line ? `. ${t.line(line)}` : ''}</span> ${['paused', 'stopped'].includes(state.state) && html`<${StateWord} state=${state.state} />`}</p>
    <div class="walk-do" role="group" aria-label=${name}>
      <button type="button" aria-pressed=${step.topUp} data-do="top-up" onClick=${() => set({ topUp: !step.topUp })}>${t.topUp}</button>
      <button type="button" aria-pressed=${step.looked === 'seen'} data-do="seen" onClick=${() => looked('seen')}>${t.seen}</button>
      <button type="button" aria-pressed=${step.looked === 'not'} data-do="not" onClick=${() => looked('not')}>${t.not}</button>
    </div></li>`;
}

/**
 * What was noted, then what was seen, one system after another.
 * @param {{walked: Walked, set: (walked: Walked | undefined) => void}} props
 */
function After({ walked: { noted, left }, set }) {
  const t = text.walk;
  useEffect(() => document.getElementById('walked')?.focus(), [left.length]);
  const undo = async () => {
    await takeBack(noted);
    set(undefined);
  };
  const [next, ...rest] = left;
  const residents = picture.value?.systems.find(({ key }) => key === next)?.residents ?? [];
  return html`<div class="saved" data-walked=${noted.ids.length}><p>${noted.says} ${!adultLooks.value ? text.who.child : ''}</p>${may.value.decide && html`<button type="button" class="quiet" data-do="undo" onClick=${undo}>${text.due.undo}</button>`}</div>
    ${next ? html`<h2 id="walked" tabindex="-1">${t.seenIn(nameOf(next), left.length)}</h2>
      <${SeenForm} key=${next} of=${next} residents=${residents} done=${(/** @type {import('./due-acts.js').Done} */ is) => is.kept && set({ noted: { ...noted, ids: [...noted.ids, ...is.ids] }, left: rest })} />
      <button type="button" class="quiet" data-do="nothing" onClick=${() => set({ noted, left: rest })}>${t.nothing}</button>`
    : html`<p id="walked" tabindex="-1">${t.over}</p><${Link} class="button main" to="/tanks">${text.check.toTanks}<//>`}`;
}
