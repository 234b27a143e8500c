// Settling in everything that was taken on an outing, in one touch: specimens with their
// finds, the tank that they wait in, their arrival.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { called, recallKinds } from '../parts/kinds.js';
import { Link } from '../parts/link.js';
import { write } from '../../data/book.js';
import { uuidv7 } from '../../data/ids.js';
import { Page } from '../house/page.js';
import { recallShores, shores } from '../plan/shore-state.js';
import { takenOf } from '../shore/find.js';
import { instant, outings, owner } from '../shore/outing-state.js';
import { may, picture, read, specimens, systemOf, tanks } from './picture-state.js';
import { MOST_JARS, arrivalId, isWeed, jarNames, specimensOf, taken, unsettled } from './settle-in.js';
import { takenOn } from './settle-in-list.js';
import { typedNumber } from './tank-units.js';
import { tanks as text } from '../../text/en-tanks.js';
import { text as all } from '../../text/en.js';

/** @typedef {import('../shore/find.js').Find} Find */
/** @typedef {{out: boolean, jars: number, base: string}} Row what is chosen for one find */
/** @typedef {{ids: string[], tanks: string[], kept: boolean}} Made */

/** @param {{of: string[]}} props the outing's id */
export function SettleInPage({ of: [outing = ''] }) {
  const t = text.settleIn;
  useEffect(() => {
    recallKinds();
    recallShores();
  }, []);
  const one = outings.value.find(({ id }) => id === outing);
  const made = useSignal(/** @type {Made | undefined} */ (undefined));
  const shore = shores.value.find(({ id }) => id === one?.shore)?.name ?? '';
  const frame = (/** @type {any} */ inside) => html`<${Page} title=${t.title(shore)} to="/tanks" back=${text.back}>${inside}<//>`;
  if (!read.value) return frame(null);
  if (made.value) return frame(html`<${Settled} made=${made.value} undone=${() => (made.value = undefined)} />`);
  if (!may.value.decide) return frame(html`<p>${text.due.child}</p>`);
  const finds = takenOn(outing);
  const list = unsettled(finds, specimens.value);
  if (list.length === 0) return frame(html`<p data-none>${taken(finds).length > 0 ? t.all : t.none}</p><${Link} class="button" to="/tanks">${t.toTanks}<//>`);
  return frame(html`${list.length < taken(finds).length && html`<p class="soft">${t.some(taken(finds).length - list.length)}</p>`}
    <${Form} key=${outing} list=${list} done=${(/** @type {Made} */ is) => (made.value = is)} />`);
}

/** @param {{list: Find[], done: (made: Made) => void}} props */
function Form({ list, done }) {
  const t = text.settleIn;
  const rows = useSignal(/** @type {Record<string, Row>} */ ({}));
  const into = useSignal(firstChoice());
  const litres = useSignal('');
  const wrong = useSignal('');
  const busy = useSignal(false);
  const rowOf = (/** @type {string} */ id) => rows.value[id] ?? { out: false, jars: 1, base: '' };
  const set = (/** @type {string} */ id, /** @type {Partial<Row>} */ change) => (rows.value = { ...rows.peek(), [id]: { ...rowOf(id), ...change } });
  const coming = list.filter(({ id }) => !rowOf(id).out);
  const several = coming.some(({ id }) => rowOf(id).jars > 1);
  const n = coming.length;
  const jars = coming.reduce((sum, { id }) => sum + rowOf(id).jars, 0);
  const where = several ? 'jars' : into.value;

  const settle = async () => {
    if (busy.value) return;
    const volume = typedNumber(litres.value);
    wrong.value = volume !== undefined && !(volume > 0 && volume <= 10_000) ? t.needLitres : '';
    if (wrong.value) {
      announce(wrong.value);
      return document.getElementById('litres')?.focus();
    }
    busy.value = true;
    /** @type {Made} */
    const made = { ids: [], tanks: [], kept: true };
    const keep = async (/** @type {string} */ kind, /** @type {string} */ id, /** @type {Record<string, any>} */ fields) => (made.kept = (await write(kind, id, fields)) && made.kept);
    const parts = coming.flatMap((find) => specimensOf(find, rowOf(find.id).jars, rowOf(find.id).base));
    const names = tanks.value.map(({ name }) => String(name));
    const fresh = where === 'jars' ? jarNames(t.jar, parts.length, names) : where === 'new' ? jarNames(t.tank, 1, names) : [];
    for (const name of fresh) {
      const id = uuidv7();
      made.tanks.push(id);
      await keep('tank', id, { name, use: 'quarantine', ...(volume ? { volumeL: volume } : {}) });
    }
    const at = instant();
    for (const [i, { id, fields }] of parts.entries()) {
      const tank = where === 'jars' ? made.tanks[i] : where === 'new' ? made.tanks[0] : where;
      await keep('specimen', id, { ...fields, deleted: false });
      await keep('event', arrivalId(id), { arrived: { at, of: `specimen/${id}`, by: owner.peek(), tank }, deleted: false });
      made.ids.push(id);
    }
    busy.value = false;
    announce(made.kept ? t.done(made.ids.length) : text.unkept);
    done(made);
  };

  const others = systemOf(`tank/${where}`)?.state?.residents.length ?? 0;
  return html`<form class="settle-in" data-finds=${list.length} onSubmit=${(/** @type {Event} */ e) => {
    e.preventDefault();
    settle();
  }} novalidate>
    <fieldset class="field"><legend>${t.where}</legend>
      ${several ? html`<p>${t.eachJar(jars)}</p>` : html`<div class="options">
        ${quarantines().map(({ id, name }) => html`<${Into} key=${id} value=${id} words=${`${name}${systemOf(`tank/${id}`)?.state?.residents.length ? '' : ` (${t.free})`}`} into=${into} />`)}
        <${Into} value="new" words=${t.newTank} into=${into} />
        ${n > 1 && html`<${Into} value="jars" words=${t.newJars(n)} into=${into} />`}
      </div>`}
      ${others > 0 && html`<p class="heed" data-restarts>${t.restarts(others)}</p>`}
      ${(where === 'new' || where === 'jars') && html`<div class="field"><label for="litres">${where === 'jars' ? t.litresEach : t.litres}</label>
        <input id="litres" type="text" inputmode="decimal" autocomplete="off" value=${litres.value} onInput=${(/** @type {any} */ e) => (litres.value = e.target.value)} aria-invalid=${Boolean(wrong.value)} aria-describedby="litres-wrong" />
        <p id="litres-wrong" class="wrong">${wrong.value}</p></div>`}
      <p class="soft">${t.noDisplay}</p>
    </fieldset>
    <h2>${t.list(n)}</h2>
    <ul class="settle-list">${list.map((find) => html`<${FindRow} key=${find.id} find=${find} row=${rowOf(find.id)} set=${(/** @type {Partial<Row>} */ change) => set(find.id, change)} />`)}</ul>
    <p class="soft">${t.water}</p>
    <div class="bottom"><button type="submit" class="main" data-do="settle" aria-disabled=${busy.value || n === 0}>${t.do(jars)}</button></div>
  </form>`;
}

/** @param {{value: string, words: string, into: import('@preact/signals').Signal<string>}} props */
const Into = ({ value, words, into }) => html`<label class="option"><input type="radio" name="into" value=${value} checked=${into.value === value} onChange=${() => (into.value = value)} /> ${words}</label>`;

/** Tanks that newcomers may wait in. */
const quarantines = () => tanks.value.filter(({ use }) => use === 'quarantine');

/** An empty quarantine, or a new one: nobody who waits already is set back unasked. */
function firstChoice() {
  const free = quarantines().find(({ id }) => picture.peek() && !systemOf(`tank/${id}`)?.state?.residents.length);
  return free?.id ?? 'new';
}

/** @param {{find: Find, row: Row, set: (change: Partial<Row>) => void}} props */
function FindRow({ find, row, set }) {
  const t = text.settleIn;
  const [amount] = takenOf([find]);
  const name = called(find.taxon);
  return html`<li data-find=${find.id} data-out=${row.out}>
    <label class="check"><input type="checkbox" checked=${!row.out} onChange=${() => set({ out: !row.out })} /> <span><strong>${name}</strong> <span class="soft">${amount && all.finds.amount(amount.value, amount.unit)}</span></span></label>
    ${!row.out && html`<div class="settle-more">
      ${isWeed(find.group) && html`<div class="field"><label for=${`base-${find.id}`}>${t.base}</label>
        <select id=${`base-${find.id}`} onChange=${(/** @type {any} */ e) => set({ base: e.target.value })}>
          <option value="" selected=${!row.base}>${t.bases.unsaid}</option>
          ${/** @type {const} */ (['cut', 'holdfast', 'stone']).map((is) => html`<option key=${is} value=${is} selected=${row.base === is}>${t.bases[is]}</option>`)}
        </select></div>`}
      <div class="field"><label for=${`jars-${find.id}`}>${t.jars}</label>
        <select id=${`jars-${find.id}`} onChange=${(/** @type {any} */ e) => set({ jars: Number(e.target.value) })}>
          ${Array.from({ length: MOST_JARS }, (_, i) => html`<option key=${i} value=${i + 1} selected=${row.jars === i + 1}>${t.jarsN(i + 1)}</option>`)}
        </select></div>
    </div>`}
  </li>`;
}

/** @param {{made: Made, undone: () => void}} props */
function Settled({ made, undone }) {
  const t = text.settleIn;
  useEffect(() => document.getElementById('settled')?.focus(), []);
  const undo = async () => {
    for (const id of made.ids) {
      await write('event', arrivalId(id), { deleted: true });
      await write('specimen', id, { deleted: true });
    }
    for (const id of made.tanks) await write('tank', id, { deleted: true });
    announce(t.undone);
    undone();
  };
  return html`<div class="saved" data-settled=${made.ids.length}><p id="settled" tabindex="-1">${made.kept ? t.done(made.ids.length) : text.unkept}</p>
      <button type="button" class="quiet" data-do="undo" onClick=${undo}>${text.due.undo}</button></div>
    <p>${t.next}</p>
    <${Link} class="button main" to=${`/tanks/acclimate/${made.ids.join('+')}`} data-do="acclimate">${t.acclimate}<//>
    <${Link} class="button" to="/tanks">${t.toTanks}<//>`;
}
