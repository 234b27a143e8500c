// A later name for a find. It is added; the name that it was logged with stays.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { UNSURE, called, taxonNamed } from '../parts/kinds.js';
import { dropDraft, keepDraft, keptDraft } from '../../data/drafts.js';
import { GroupPick } from './find-parts.js';
import { identify } from './finds-state.js';
import { KindPick } from './kind-pick.js';
import { text } from '../../text/en.js';

/** As internal/book has it, in characters. */
const MOST_HOW = 300;

/** @param {{find: import('./find.js').Find, done: (says: string) => void}} props */
export function IdentifyForm({ find, done }) {
  const t = text.oneFind;
  const kind = useSignal(/** @type {import('./recent.js').Kind | undefined} */ (undefined));
  const how = useSignal('');
  const wrong = useSignal('');
  const key = `find-name:${find.id}`;
  useEffect(() => void keptDraft(key).then((kept) => {
    if (!kept || kind.peek() || how.peek()) return;
    kind.value = kept.kind;
    how.value = kept.how;
  }), []);
  const keep = () => keepDraft(key, { kind: kind.peek(), how: how.peek() });
  const end = async (/** @type {string} */ says) => {
    await dropDraft(key);
    done(says);
  };
  /** @param {Event} event */
  const submit = async (event) => {
    event.preventDefault();
    if (!kind.value) {
      announce((wrong.value = t.needKind));
      return document.getElementById('other')?.focus();
    }
    const kept = await identify(find.id, { ...kind.value, how: how.value.trim().slice(0, MOST_HOW) });
    if (!kept) return void (wrong.value = text.log.unkept);
    end(t.saved);
  };
  const offered = (find.fields.candidates ?? []).map((/** @type {string} */ taxon) => ({ taxon, group: taxonNamed(taxon)?.group ?? find.group }));
  return html`<form class="how" onSubmit=${submit} novalidate>
    <p>${t.identifyWhy}</p>
    ${kind.value ? html`<div class="chosen-kind"><h2 id="chosen-kind" tabindex="-1">${called(kind.value.taxon)}</h2><button type="button" class="quiet" data-do="change" onClick=${() => { kind.value = undefined; keep(); }}>${text.log.change}</button></div>
        ${!taxonNamed(kind.value.taxon) && html`<${GroupPick} of=${kind.value} set=${(/** @type {any} */ change) => { if (kind.value) kind.value = { ...kind.value, ...change }; keep(); }} />`}`
      : html`<${KindPick} recent=${offered} choose=${(/** @type {any} */ { taxon, group }) => {
        kind.value = { taxon, group: group || taxonNamed(taxon)?.group || UNSURE };
        keep();
        requestAnimationFrame(() => document.getElementById('chosen-kind')?.focus());
      }} />`}
    <div class="field"><label for="how">${t.identifyHow}</label><p id="how-hint" class="soft">${t.identifyHowHint}</p>
      <input id="how" type="text" autocomplete="off" maxlength=${MOST_HOW} aria-describedby="how-hint" value=${how.value} onInput=${(/** @type {any} */ e) => { how.value = e.target.value; keep(); }} /></div>
    <p class="wrong" role="alert">${wrong.value}</p>
    <div class="bottom two"><button type="button" data-do="cancel" onClick=${() => end('')}>${t.cancel}</button><button type="submit" class="main" data-do="identify">${t.identifyDo}</button></div>
  </form>`;
}
