// Bringing in a set: read and checked by the core first, then shown in plain sentences, and put
// on file only when somebody has said when and by whom it was checked.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { recallKinds } from '../parts/kinds.js';
import { go } from '../route.js';
import { call, notRunning } from '../../core.js';
import { uuidv7 } from '../../data/ids.js';
import { Page } from '../house/page.js';
import { CheckedForm, asksShores, newChecked, wrongCheck } from './checked-form.js';
import { Radios, toWrong } from './inputs.js';
import { justDone } from './list-page.js';
import { mayWrite, rulesOf, sameAs, setRules, shoreFields } from './on-file.js';
import { SaysList, SetFacts, sourceWords } from './says-list.js';
import { rules } from '../../text/en-rules.js';

/** As internal/take has it. A page does not even read what is larger. */
const MOST_BYTES = 1 << 20;

/** @typedef {{message: string, field: string}} Fault */

export function ImportPage() {
  const t = rules.import;
  const typed = useSignal('');
  const fault = useSignal(/** @type {Fault | undefined} */ (undefined));
  const found = useSignal(/** @type {Record<string, any> | undefined} */ (undefined));
  const busy = useSignal(false);
  useEffect(() => void recallKinds(), []);
  const back = { to: '/house/rules', back: rules.back };
  if (!mayWrite.value) return html`<${Page} title=${t.title} ...${back}><p>${rules.reads}</p><//>`;

  /** @param {Fault} of */
  const refuse = (of) => {
    fault.value = of;
    busy.value = false;
    requestAnimationFrame(() => document.getElementById('faulty')?.focus());
  };
  /** @param {string} text */
  const read = async (text) => {
    if (busy.peek()) return;
    fault.value = undefined;
    if (!text.trim()) return refuse({ message: t.empty, field: '-' });
    busy.value = true;
    announce(t.reading);
    try {
      found.value = (await call('ruleset', { file: text })).document;
      requestAnimationFrame(() => document.getElementById('found-set')?.focus());
    } catch (error) {
      const { message, field } = /** @type {any} */ (error);
      return refuse(notRunning(error) ? { message: t.notReckoned, field: '-' } : { message: message.replaceAll('|', ', '), field: field ?? '' });
    }
    busy.value = false;
  };
  /** @param {Event} event */
  const choose = async (event) => {
    const input = /** @type {HTMLInputElement} */ (event.currentTarget);
    const file = input.files?.[0];
    if (!file) return;
    try {
      if (file.size > MOST_BYTES) return refuse({ message: t.large(sizeWords(file.size)), field: '-' });
      await read(await file.text());
    } catch {
      refuse({ message: t.unreadable, field: '-' });
    } finally {
      input.value = ''; // the same file, mended, can be chosen again
    }
  };
  /**
   * A text of megabytes would hold up the page; it is refused before it is in the field.
   * @param {ClipboardEvent} event
   */
  const paste = (event) => {
    const text = event.clipboardData?.getData('text/plain') ?? '';
    if (text.length <= MOST_BYTES) return;
    event.preventDefault();
    refuse({ message: t.large(sizeWords(text.length)), field: '-' });
  };
  if (found.value) return html`<${Page} title=${t.title} ...${back}><${PutOnFile} document=${found.value} again=${() => (found.value = undefined)} /><//>`;
  return html`<${Page} title=${t.title} ...${back}>
    <p>${t.what}</p>
    <p class="heed">${rules.above}</p>
    ${fault.value && html`<div class="refused" role="group" aria-labelledby="faulty" data-fault=${fault.value.field}>
      <h2 id="faulty" tabindex="-1">${t.faulty}</h2>
      ${fault.value.field !== '-' && html`<p>${t.at(fault.value.field || t.atStart)}</p>`}
      <p><strong>${fault.value.message}</strong></p>
      ${fault.value.field !== '-' && html`<p>${t.faultyDo}</p>`}</div>`}
    <div class="field"><label for="file">${t.file}</label><input id="file" type="file" accept=".json,application/json,text/plain" onChange=${choose} /></div>
    <form novalidate data-form="paste" onSubmit=${(/** @type {Event} */ event) => {
      event.preventDefault();
      read(typed.peek());
    }}>
      <div class="field"><label for="pasted">${t.or}</label>
        <textarea id="pasted" class="pasted" rows="8" spellcheck="false" autocapitalize="none" value=${typed.value} onPaste=${paste} onInput=${(/** @type {any} */ e) => (typed.value = e.target.value)}></textarea></div>
      <button type="submit" data-do="read" aria-disabled=${busy.value}>${busy.value ? t.reading : t.read}</button>
    </form>
  <//>`;
}

/** @param {number} bytes */
const sizeWords = (bytes) => (bytes < 10 * MOST_BYTES ? `${(bytes / MOST_BYTES).toFixed(1)} MB` : `${Math.round(bytes / MOST_BYTES)} MB`);

/** @param {{document: Record<string, any>, again: () => void}} props */
function PutOnFile({ document, again }) {
  const t = rules.import;
  const same = sameAs(document);
  const w = useSignal(newChecked());
  const there = useSignal('');
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  /** @param {Event} event */
  const put = async (event) => {
    event.preventDefault();
    wrong.value = { ...(same && !there.peek() ? { there: t.needThere } : {}), ...wrongCheck(w.peek(), document, there.peek() === 'replace' ? same?.id : undefined) };
    if (Object.keys(wrong.value).length > 0) {
      announce(Object.values(wrong.value).join(' '));
      return toWrong();
    }
    const { on, by, shores } = w.peek();
    const id = same && there.peek() === 'replace' ? same.id : uuidv7();
    const kept = await setRules(id, { document, checked: document.layer === 'household' ? null : { on, by: by.trim() }, ...(asksShores(document) ? shoreFields(shores) : {}) });
    justDone.value = kept ? t.done(document.name) : rules.unkept;
    go(`/house/rules/set/${id}`);
  };
  return html`<section class="found-set" aria-labelledby="found-set" data-found>
      <h2 id="found-set" tabindex="-1">${document.name}</h2>
      <p class="heed">${rules.above}</p>
      <${SetFacts} document=${document} />
      <h2>${t.says}</h2>
      <${SaysList} rules=${rulesOf({ document })} />
    </section>
    <form onSubmit=${put} novalidate data-form="put">
      ${same && html`<div class="doubt"><${Radios} name="there" legend=${t.there} hint=${t.thereIs(sourceWords(same.document), rulesOf(same).length)} value=${there.value}
        set=${(/** @type {string} */ is) => (there.value = is)} options=${[['replace', t.replace], ['both', t.both]]} wrong=${wrong.value.there} /></div>`}
      <${CheckedForm} w=${w.value} set=${(/** @type {any} */ change) => (w.value = { ...w.peek(), ...change })} wrong=${wrong.value} document=${document} />
      <div class="two"><button type="button" data-do="again" onClick=${again}>${t.again}</button>
      <button type="submit" class="main" data-do="put">${t.put}</button></div>
    </form>`;
}
