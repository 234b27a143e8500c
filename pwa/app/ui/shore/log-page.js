// Logging a find in three touches: what, how, save. The phone is written to at once; the
// core, the network, a position and a photo are never waited for.

import { signal, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { UNSURE, called, kinds, taxonNamed } from '../parts/kinds.js';
import { ready, records } from '../../data/book.js';
import { uuidv7 } from '../../data/ids.js';
import { persist } from '../../data/persist.js';
import { AmountPick, FatePick, GroupPick, Heed, StatePick, WhoPick } from './find-parts.js';
import { FindFrame } from './find-frame.js';
import { amountAsked, amountOf } from './amount.js';
import { factsOf, namesOf } from './find-fields.js';
import { photoFields, statesOf } from './find.js';
import { chooseWho, findNamed, here, nameOf, place, readsOnly, recallWho, setFind, takeBack, whoNow } from './finds-state.js';
import { KindPick } from './kind-pick.js';
import { clear, draft, found, recallDraft, set } from './log-draft.js';
import { UnknownFields } from './unknown.js';
import { PhotoPick } from './photo-pick.js';
import { awaitFix, positionNow, wanted } from './position.js';
import { PositionLine } from './position-line.js';
import { recentOf } from './recent.js';
import { useVerdict, withLastWords } from './verdict-state.js';
import { VerdictLine, VerdictPanel, saveWords } from './verdict.js';
import { text } from '../../text/en.js';

/** The find that was saved last, for its undo. */
const saved = signal(/** @type {{id: string, what: string, kept: boolean} | undefined} */ (undefined));

/**
 * A wet thumb touches twice, and where Save stood there then stands the button that logs
 * something at once: a touch so soon after a save is none.
 */
const TWICE_MS = 800;
let savedAtMs = -Infinity;

/** How long the list of the finds is waited for before the page stands without what was met lately. */
const RECENT_MS = 400;

export function LogPage() {
  const t = text.log;
  // What was met lately does not move under a thumb: it is read when the page opens and after a save.
  const recent = useSignal(/** @type {import('./recent.js').Kind[]} */ ([]));
  const open = useSignal(false);
  const look = () => (recent.value = recentOf(records('find').peek(), here.peek()?.id));
  useEffect(() => {
    recallDraft();
    recallWho();
    const late = new Promise((resolve) => setTimeout(resolve, RECENT_MS));
    Promise.race([ready('find'), late]).then(() => {
      look();
      open.value = true;
    });
  }, []);
  if (readsOnly.value) return html`<${FindFrame} title=${t.title}><h2>${text.finds.reads}</h2><p>${text.finds.readsWhy}</p><//>`;
  return html`<${FindFrame} title=${t.title} unseen=${Boolean(draft.value.taxon)} beside=${html`<${Link} class="button" data-do="today" to="/shore/today">${text.finds.today}<//>`}>
    <${Saved} />
    ${!open.value ? null : draft.value.taxon ? html`<${How} done=${look} />` : html`<${What} recent=${recent.value} done=${look} />`}
  <//>`;
}

/** @param {{recent: import('./recent.js').Kind[], done: () => void}} props */
function What({ recent, done }) {
  const t = text.log;
  /** @param {import('./recent.js').Kind} kind */
  const choose = ({ taxon, group }) => {
    const is = group || taxonNamed(taxon)?.group || UNSURE;
    set({ taxon, group: is, state: statesOf(is)[0], fate: 'seen' });
    scrollTo(0, 0);
    requestAnimationFrame(() => document.getElementById('chosen-kind')?.focus());
  };
  const something = async () => {
    if (performance.now() - savedAtMs < TWICE_MS) return;
    savedAtMs = performance.now();
    const id = uuidv7();
    await save(id, { taxon: UNSURE, group: UNSURE, fate: 'seen', unfinished: true, ...(whoNow.peek() ? { by: whoNow.peek() } : {}) }, t.hereSaved);
    done();
  };
  return html`<${KindPick} recent=${recent} choose=${choose} />
    <${PositionLine} />
    <div class="bottom"><button type="button" class="main" data-do="something" onClick=${something}>${t.here}</button></div>`;
}

/** @param {{done: () => void}} props */
function How({ done }) {
  const t = text.log;
  const now = draft.value;
  const wrong = useSignal(/** @type {{amount?: string, names?: string}} */ ({}));
  const busy = useSignal(false);
  const by = now.by === undefined ? whoNow.value : now.by;
  const unknown = now.taxon === UNSURE;
  const listed = taxonNamed(now.taxon);
  const facts = withLastWords(now);
  const { fields: told, wrong: factsWrong } = factsOf(facts);
  const verdict = useVerdict({ taxon: now.taxon, group: now.group, state: now.state, amount: amountAsked(now.value, now.unit), by, position: positionNow(), ...told });

  /** @param {Event} event */
  const submit = async (event) => {
    event.preventDefault();
    if (busy.value) return;
    const value = amountOf(now.value, now.unit);
    const { names, wrong: names_ } = namesOf(now.candidates);
    const factWrong = Object.keys(factsWrong).find((id) => document.getElementById(id)); // what no rule asks for here holds up nothing
    wrong.value = { ...(value === undefined ? { amount: t.needAmount } : {}), ...(unknown && names_ ? { names: names_ } : {}) };
    if (value === undefined || (unknown && names_) || factWrong) {
      announce([wrong.value.amount, wrong.value.names, factWrong && factsWrong[factWrong]].filter(Boolean).join(' '));
      return document.getElementById(value === undefined ? 'amount' : unknown && names_ ? 'candidates' : factWrong ?? '')?.focus();
    }
    busy.value = true;
    performance.mark('find-tap');
    const kept = await save(now.id, {
      taxon: now.taxon, group: now.group, state: now.state, amount: { value, unit: now.unit }, fate: now.fate, ...(by ? { by } : {}),
      ...toldOf(told), ...photoFields(now.photos), ...(now.scale.trim() ? { scale: now.scale.trim() } : {}), ...(unknown && names.length > 0 ? { candidates: names } : {}),
    }, wordsOf(now.taxon, value, now.unit, now.fate, by));
    busy.value = false;
    if (!kept) return; // what was entered stays, and is saved again under the same id
    clear();
    done();
    scrollTo(0, 0);
    requestAnimationFrame(() => document.getElementById('saved')?.focus());
  };
  const id = now.id;
  /**
   * A photo may come when its find is saved already, or was given up.
   * @param {string[]} photos
   */
  const photosCame = async (photos) => {
    if (draft.peek().id === id) await set({ photos });
    else if (findNamed(id)) await setFind(id, photoFields(photos));
  };

  return html`<form class="how" onSubmit=${submit} novalidate>
    ${found.value && html`<p class="heed" data-draft=${found.value}>${found.value === 'camera' ? t.begunCamera : t.begun}</p>`}
    <div class="chosen-kind"><h2 id="chosen-kind" tabindex="-1">${unknown && now.group !== UNSURE ? t.unsureOf(groupOf(now.group)) : called(now.taxon)} ${listed && html`<em class="soft">${listed.name}</em>`}</h2>
      <button type="button" class="quiet" data-do="change" onClick=${clear}>${t.change}</button></div>
    <${Heed} of=${now} />
    ${!listed && !unknown && html`<${GroupPick} of=${now} set=${(/** @type {any} */ change) => set({ ...change, state: statesOf(change.group)[0], fate: 'seen' })} />`}
    <${AmountPick} of=${now} set=${set} wrong=${wrong.value.amount} />
    <${StatePick} of=${now} set=${(/** @type {any} */ change) => set({ ...change, fate: 'seen' })} />
    <${VerdictPanel} of=${verdict} taxon=${now.taxon} facts=${facts} set=${set} />
    <${FatePick} key=${now.id} of=${now} set=${set} />
    <${WhoPick} by=${by} choose=${(/** @type {string | null} */ who) => {
      chooseWho(who);
      set({ by: who });
    }} />
    <${PhotoPick} photos=${() => (draft.peek().id === id ? draft.peek().photos : now.photos)} before=${() => set({ camera: true })} back=${() => draft.peek().id === id && set({ camera: false })} set=${photosCame} />
    ${(unknown || now.photos.length > 0) && html`<${UnknownFields} of=${now} set=${set} unknown=${unknown} wrong=${wrong.value.names} />`}
    ${wanted.value && html`<${PositionLine} />`}
    <div class="bottom"><${VerdictLine} of=${verdict} taking=${now.fate === 'taken'} />
      <button type="submit" class="main" data-do="save" aria-disabled=${busy.value}>${saveWords(verdict, now.fate)}</button></div>
  </form>`;
}

/**
 * Of fields, those that are said.
 * @param {Record<string, any>} fields
 */
const toldOf = (fields) => Object.fromEntries(Object.entries(fields).filter(([, value]) => value != null));

/** @param {string} group */
const groupOf = (group) => kinds.value?.groups.find(({ id }) => id === group)?.name ?? group;

/**
 * "3 Sea lettuce, taken, by Tam".
 * @param {string} taxon
 * @param {number} value
 * @param {string} unit
 * @param {string} fate
 * @param {string | null} by
 */
function wordsOf(taxon, value, unit, fate, by) {
  const f = text.finds;
  return [`${f.amount(value, unit)} ${called(taxon)}`, f.fates[/** @type {'seen'} */ (fate)], nameOf(by)].filter(Boolean).join(', ');
}

/**
 * @param {string} id
 * @param {Record<string, any>} fields
 * @param {string} what in words
 */
async function save(id, fields, what) {
  const position = positionNow();
  const at = place();
  const kept = await setFind(id, { ...at, ...fields, ...(position ? { position } : {}) });
  saved.value = { id, what, kept };
  savedAtMs = performance.now();
  // Until the words are on the screen, the find is not saved for the person.
  requestAnimationFrame(() => performance.mark('find-saved'));
  announce(kept ? text.log.saved(what) : text.log.unkept);
  if (kept) {
    persist();
    if (position === undefined) awaitFix(id, Date.parse(at.at));
  }
  return kept;
}

function Saved() {
  const t = text.log;
  const undone = useSignal('');
  const last = saved.value;
  useEffect(() => () => void (saved.value = undefined), []); // it is about this visit of the page
  if (!last) return undone.value ? html`<p class="saved" data-undone>${undone.value}</p>` : null;
  if (last.kept && draft.value.taxon) return null; // the next one has the page
  if (!last.kept) return html`<p class="heed" role="alert" data-unkept>${t.unkept}</p>`;
  const undo = async () => {
    await takeBack(last.id);
    saved.value = undefined;
    undone.value = t.undone;
    announce(t.undone);
    document.getElementById('page')?.focus();
  };
  return html`<div class="saved" data-saved=${last.id}>
    <p id="saved" tabindex="-1">${t.saved(last.what)}</p>
    <div class="two"><button type="button" data-do="undo" onClick=${undo}>${t.undo}</button>
    <${Link} class="button" to=${`/shore/find/${last.id}`}>${t.details}<//></div>
  </div>`;
}
