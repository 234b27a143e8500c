// Changing or completing a find. Only what was changed is written, so that what another
// phone has changed meanwhile stays.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { UNSURE, called, taxonNamed } from '../parts/kinds.js';
import { dropDraft, keepDraft, keptDraft } from '../../data/drafts.js';
import { AmountPick, Choices, FatePick, GroupPick, Heed, StatePick, WhoPick } from './find-parts.js';
import { statesOf } from './find.js';
import { setFind } from './finds-state.js';
import { askedOf, changesOf, read, writtenOf } from './find-fields.js';
import { KindPick } from './kind-pick.js';
import { PhotoPick } from './photo-pick.js';
import { UnknownFields } from './unknown.js';
import { against, useVerdict } from './verdict-state.js';
import { VerdictLine, VerdictPanel } from './verdict.js';
import { takes } from '../../text/en-takes.js';
import { text } from '../../text/en.js';

/** @typedef {import('./find.js').Find} Find */

/** @param {{find: Find, done: (says: string) => void}} props */
export function FindForm({ find, done }) {
  const t = text.oneFind;
  const key = `find:${find.id}`;
  const before = useSignal(writtenOf(find)).value; // what the change starts from
  const now = useSignal(before);
  const choosing = useSignal(false);
  const again = useSignal(false);
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const trouble = useSignal('');
  useEffect(() => void keptDraft(key).then((kept) => {
    if (!kept || now.peek() !== before) return;
    now.value = { ...before, ...kept };
    again.value = true;
  }), []);
  const set = (/** @type {Partial<import('./find-fields.js').Written>} */ change) => {
    now.value = { ...now.peek(), ...change };
    return keepDraft(key, now.peek());
  };
  const end = async (/** @type {string} */ says) => {
    await dropDraft(key);
    done(says);
  };
  /** @param {Event} event */
  const submit = async (event) => {
    event.preventDefault();
    const { fields, wrong: is } = read(now.value);
    wrong.value = is;
    const [first] = Object.keys(is);
    if (!fields) {
      announce(Object.values(is).join(' '));
      return document.getElementById(first)?.focus();
    }
    if (!(await setFind(find.id, { ...changesOf(find, before, fields), unfinished: false }))) return void (trouble.value = text.log.unkept);
    end(t.saved);
  };
  const of = now.value;
  const listed = taxonNamed(of.taxon);
  const verdict = useVerdict(askedOf(find, of));
  const unknown = of.taxon === UNSURE;
  /** @param {string} name @param {string} legend @param {Record<string, string>} options */
  const list = (name, legend, options) => html`<div class="field"><label for=${name}>${legend}</label>
    <select id=${name} value=${/** @type {any} */ (of)[name]} onChange=${(/** @type {any} */ e) => set({ [name]: e.target.value })}>
      <option value="">${t.unset}</option>${Object.entries(options).map(([value, words]) => html`<option value=${value}>${words}</option>`)}</select></div>`;
  /** @param {string} name @param {string} label @param {number} [lines] */
  const line = (name, label, lines) => html`<div class="field"><label for=${name}>${label}</label>
    ${lines ? html`<textarea id=${name} rows=${lines} maxlength="2000" value=${/** @type {any} */ (of)[name]} onInput=${(/** @type {any} */ e) => set({ [name]: e.target.value })}></textarea>`
      : html`<input id=${name} type="text" autocomplete="off" maxlength="300" aria-invalid=${Boolean(wrong.value[name])} aria-describedby=${name + '-wrong'} value=${/** @type {any} */ (of)[name]} onInput=${(/** @type {any} */ e) => set({ [name]: e.target.value })} />`}
    <p id=${name + '-wrong'} class="wrong">${wrong.value[name]}</p></div>`;
  return html`<form class="how" onSubmit=${submit} novalidate>
    ${again.value && html`<p class="heed" data-draft>${t.draft}</p>`}
    <div class="chosen-kind"><h2 id="chosen-kind" tabindex="-1">${called(of.taxon)} ${listed && html`<em class="soft">${listed.name}</em>`}</h2>
      <button type="button" class="quiet" data-do="change" aria-expanded=${choosing.value} onClick=${() => (choosing.value = !choosing.value)}>${text.log.change}</button></div>
    ${choosing.value && html`<${KindPick} recent=${[]} choose=${(/** @type {any} */ { taxon, group }) => {
      const is = group || taxonNamed(taxon)?.group || UNSURE;
      set({ taxon, group: is, state: statesOf(is)[0], fate: 'seen' });
      choosing.value = false;
      requestAnimationFrame(() => document.getElementById('chosen-kind')?.focus());
    }} />`}
    <${Heed} of=${of} />
    ${!listed && !unknown && html`<${GroupPick} of=${of} set=${(/** @type {any} */ change) => set({ ...change, state: statesOf(change.group)[0] })} />`}
    <${AmountPick} of=${of} set=${set} wrong=${wrong.value.amount} />
    <${StatePick} of=${of} set=${set} />
    <${VerdictPanel} of=${verdict} taxon=${of.taxon} facts=${of} set=${set} own=${true} />
    <${FatePick} of=${of} set=${set} />
    <${WhoPick} by=${of.by} choose=${(/** @type {string | null} */ by) => set({ by })} />
    <${PhotoPick} photos=${() => now.peek().photos} before=${() => keepDraft(key, now.peek())} back=${() => {}} set=${(/** @type {string[]} */ photos) => set({ photos })} />
    <${UnknownFields} of=${of} set=${set} unknown=${unknown} wrong=${wrong.value.candidates} />
    <${Choices} name="height" legend=${t.facts.height} is=${of.height} choose=${(/** @type {any} */ height) => set({ height })} options=${Object.entries(t.heights)} />
    ${line('habitat', t.facts.habitat)}
    ${line('container', t.facts.container)}
    <div class="pair">${line('sizeMm', t.sizeMm)}${list('axis', t.axis, t.axes)}</div>
    <div class="pair">${line('massG', t.massG)}${list('weighed', t.weighed, t.weighings)}</div>
    ${line('note', t.facts.note, 3)}
    <p class="wrong" role="alert">${trouble.value}</p>
    <div class="bottom two"><${VerdictLine} of=${verdict} taking=${of.fate === 'taken'} />
      <button type="button" data-do="cancel" onClick=${() => end('')}>${t.cancel}</button><button type="submit" class="main" data-do="done">${of.fate === 'taken' && against(verdict) ? takes.record : t.done}</button></div>
  </form>`;
}
