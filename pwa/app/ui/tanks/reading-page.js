// A reading of a tank, a system or a specimen's water: one form, what it means at once, and
// what follows from it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { write } from '../../data/book.js';
import { uuidv7 } from '../../data/ids.js';
import { keepInstrument, keptInstrument } from '../../data/instrument-choice.js';
import { Page } from '../house/page.js';
import { instant, owner } from '../shore/outing-state.js';
import { home, may, nameOf, read, systemOf, zone } from './picture-state.js';
import { ReadingForm } from './reading-form.js';
import { ReadingSaved } from './reading-saved.js';
import { readingOf } from './reading-typed.js';
import { toFirstWrong, useLeft } from './tank-field.js';
import { useDraft } from './tank-draft.js';
import { timeTyped, typedTime } from './tank-time.js';
import { tanks as text } from '../../text/en-tanks.js';
import { water as t } from '../../text/en-tank-water.js';

/** How far ahead of this phone's clock a reading may be, milliseconds. */
const AHEAD_MS = 5 * 60_000;
const MOST_NOTE = 2000;

/** What is remembered from one reading to the next. */
const REMEMBERED = ['instrument', 'scale', 'pH.scale', 'ammoniaMgNL.as', 'nitriteMgNL.as', 'nitrateMgNL.as', 'phosphateMgL.as', 'alkalinity.as'];

export const emptyReading = () => ({
  at: '', salinity: '', instrument: 'refractometer', scale: 'ppt', sampleC: '', temperatureC: '', pH: '', 'pH.scale': 'NBS',
  ammoniaMgNL: '', 'ammoniaMgNL.as': 'N', nitriteMgNL: '', 'nitriteMgNL.as': 'N', nitrateMgNL: '', 'nitrateMgNL.as': 'N',
  phosphateMgL: '', 'phosphateMgL.as': 'PO4', alkalinity: '', 'alkalinity.as': 'dKH', oxygenMgL: '', note: '',
});

/** @param {{of: string[]}} props kind and id */
export function ReadingPage({ of: [kind = '', id = ''] }) {
  const ref = `${kind}/${id}`;
  const name = nameOf(ref) || systemOf(ref)?.name || '';
  const back = kind === 'tank' ? `/tanks/tank/${id}` : kind === 'specimen' ? `/tanks/specimen/${id}` : `/tanks/system/${ref}`;
  const frame = (/** @type {any} */ inside) => html`<${Page} title=${t.reading.title(name)} to=${name ? back : '/tanks'} back=${name || text.back}>${inside}<//>`;
  if (!read.value) return frame(null);
  if (!name || !['tank', 'system', 'specimen'].includes(kind)) return frame(html`<p>${text.gone}</p>`);
  if (!may.value.note) return frame(html`<p>${text.reads}</p>`);
  return frame(html`<${Reading} key=${ref} of=${ref} back=${back} name=${name} />`);
}

/** @param {{of: string, back: string, name: string}} props */
function Reading({ of, back, name }) {
  const draft = useDraft(`reading:${of}`, emptyReading);
  const left = useLeft();
  const saved = useSignal(/** @type {{id: string, fields: Record<string, any>, kept: boolean} | undefined} */ (undefined));
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const busy = useSignal(false);
  useEffect(() => {
    Promise.all([keptInstrument(), draft.read]).then(([kept]) => {
      if (kept && !draft.found.peek()) draft.set(Object.fromEntries(REMEMBERED.filter((field) => typeof kept[field] === 'string').map((field) => [field, kept[field]])));
    });
  }, [draft]);
  if (saved.value) return html`<${ReadingSaved} of=${of} saved=${saved.value} back=${back} name=${name} again=${() => (saved.value = undefined)} />`;

  const typed = draft.typed();
  const said = readingOf(typed);
  const doubts = { wrong: { ...wrong.value, ...said.wrong }, ask: said.ask };

  /** @param {Event} event */
  const save = async (event) => {
    event.preventDefault();
    if (busy.value) return;
    left.all();
    const now = readingOf(draft.typed());
    const more = /** @type {Record<string, string>} */ ({});
    const atMs = draft.fields.at.value ? timeTyped(draft.fields.at.value, zone.value) : Date.now();
    if (Number.isNaN(atMs)) more.at = t.wrong.time;
    else if (atMs > Date.now() + AHEAD_MS) more.at = t.wrong.future;
    const note = draft.fields.note.value.trim();
    if (Array.from(note).length > MOST_NOTE) more.note = t.wrong.long(MOST_NOTE);
    if (Object.keys(now.fields).length === 0 && Object.keys(now.wrong).length === 0 && Object.keys(now.ask).length === 0) more.salinity = t.wrong.nothing;
    wrong.value = more;
    if (Object.keys({ ...more, ...now.wrong, ...now.ask }).length > 0) {
      announce(t.wrongHead);
      return toFirstWrong();
    }
    busy.value = true;
    const id = uuidv7();
    const kept = await write('reading', id, { sample: { at: instant(atMs), of, by: owner.peek() }, ...now.fields, ...(note ? { note } : {}) });
    keepInstrument(Object.fromEntries(REMEMBERED.map((field) => [field, draft.fields[field].value])));
    busy.value = false;
    announce(kept ? t.reading.saved : t.unkept);
    if (kept) {
      await draft.end(true);
      saved.value = { id, fields: now.fields, kept };
    } else wrong.value = { note: t.unkept };
  };
  return html`<form class="reading-form" data-of=${of} onSubmit=${save} onFocusOut=${left.leave} novalidate>
    ${draft.found.value && html`<p class="soft" data-draft>${t.draft}</p>`}
    <p>${t.reading.lead}</p>
    <${ReadingForm} draft=${draft} doubts=${doubts} left=${left} fields=${said.fields} of=${of} />
    <div class="field"><label for="at">${t.reading.when}</label>
      <input id="at" name="at" type="datetime-local" value=${draft.fields.at.value || typedTime(Date.now(), zone.value)} onInput=${(/** @type {any} */ e) => (draft.fields.at.value = e.target.value)} aria-invalid=${Boolean(wrong.value.at)} aria-describedby="at-wrong" />
      <p id="at-wrong" class="wrong">${wrong.value.at}</p>${home.value.zone && html`<p class="soft">${text.home.zone(zone.value)}</p>`}</div>
    <p class="wrong" role="alert">${left.of('') && Object.keys({ ...doubts.wrong, ...doubts.ask }).length > 0 && t.wrongHead}</p>
    <div class="actions"><${Link} class="button" to=${back}>${t.cancel}<//><button type="submit" class="main" data-do="keep" aria-disabled=${busy.value}>${t.reading.save}</button></div>
  </form>`;
}
