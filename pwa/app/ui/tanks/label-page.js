// Labels in batches, for what is handed on and for our own jars.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { recallKinds } from '../parts/kinds.js';
import { Link } from '../parts/link.js';
import { Page } from '../house/page.js';
import { keepDraft, keptDraft } from '../../data/drafts.js';
import { GRIDS, gridWrong, sheetsOf } from './label-grid.js';
import { LabelOptions, LEAST_OWN } from './label-options.js';
import { Label } from './label-one.js';
import { labelName, labelOf, standing } from './label-words.js';
import { fitType } from './paper-fit.js';
import { PrintBar, Sheets } from './paper-sheet.js';
import { picture, specimens } from './picture-state.js';
import { paper } from '../../text/en-tank-paper.js';
import { tanks as words } from '../../text/en-tanks.js';

/** What is printed at once, at most. */
const MOST = 500;
const MOST_REGION = 40;
const DRAFT = 'labels';

/** @typedef {{size: string, own: Record<keyof typeof LEAST_OWN, string>, copies: string, used: string, origin: 'none' | 'words' | 'shore', region: string}} Options as typed */

/** @type {Options} */
const begin = { size: 'a4-cut', own: LEAST_OWN, copies: '1', used: '0', origin: 'none', region: '' };

/** @param {{of: string[]}} props ids of those chosen already */
export function LabelPage({ of: ids }) {
  const t = paper.labels;
  const options = useSignal(begin);
  const chosen = useSignal(/** @type {string[]} */ (ids));
  const tight = useSignal(0);
  useEffect(() => {
    recallKinds();
    keptDraft(DRAFT).then((kept) => kept && (options.value = { ...begin, ...kept, used: '0' }));
  }, []);
  /** @param {Partial<Options>} change @param {Record<string, string>} [own] */
  const set = (change, own = {}) => {
    const was = options.peek();
    options.value = { ...was, ...change, own: { ...was.own, ...own } };
    keepDraft(DRAFT, options.peek());
  };
  const listed = specimens.value.map(({ id }) => ({ id, name: labelName(id), at: standing(id) })).filter(({ at }) => at).sort((a, b) => a.name.localeCompare(b.name));
  const { grid, wrong, copies, used } = readOptions(options.value);
  const fine = Object.keys(wrong).length === 0;
  const labels = fine ? listed.filter(({ id }) => chosen.value.includes(id)).flatMap(({ id }) => Array(copies).fill(labelOf(id, { how: options.value.origin, region: options.value.region }) ?? [])).flat() : [];
  const shown = labels.slice(0, MOST);
  const sheets = sheetsOf(grid, shown, used);
  return html`<${Page} title=${t.title} to="/tanks" back=${words.title}>
    <p class="screen">${t.why}</p>
    <p class="doing screen"><${Link} class="button" to="/tanks/lid">${t.lids}<//></p>
    ${!picture.value ? html`<p class="screen" role="status">${paper.notReckoned}</p>` : listed.length === 0 ? html`<p class="screen">${t.none}</p>` : html`
      <${Which} listed=${listed} chosen=${chosen} />
      <${LabelOptions} is=${options.value} set=${set} wrong=${wrong} />
      ${shown.length > 0 ? html`
        <p class="screen" role="status" data-labels=${shown.length}>${t.counted(shown.length, sheets.length)}${labels.length > MOST ? ` ${t.most(MOST)}` : ''}</p>
        ${tight.value > 0 && html`<p class="heed screen" role="alert" data-tight>${t.tight(tight.value)}</p>`}
        <${PrintBar} />
        <${Sheets} paper=${grid.paper} kind="labels" label=${paper.preview} measured=${(/** @type {HTMLElement} */ box) => (tight.value = fitType(box, '.label', (label) => label.firstElementChild))}
          sheets=${sheets.map((sheet) => sheet.map(({ label, x, y }) => html`<${Label} words=${label} grid=${grid} x=${x} y=${y} />`))} />`
        : html`<p class="soft screen" role="status">${fine ? t.choose : ''}</p>`}`}
  <//>`;
}

/** @param {{listed: {id: string, name: string, at?: string}[], chosen: import('@preact/signals').Signal<string[]>}} props */
function Which({ listed, chosen }) {
  const t = paper.labels;
  return html`<div class="label-which screen"><h2>${t.which}</h2>${(/** @type {const} */ (['handed', 'may', 'stays'])).map((at) => {
    const those = listed.filter((one) => one.at === at);
    const all = those.every(({ id }) => chosen.value.includes(id));
    const flip = () => (chosen.value = all ? chosen.value.filter((id) => !those.some((one) => one.id === id)) : [...new Set([...chosen.value, ...those.map(({ id }) => id)])]);
    return those.length > 0 && html`<fieldset class="field" data-standing=${at}><legend>${t[at]}</legend>
      ${those.length > 1 && html`<button type="button" class="quiet" data-do=${`all-${at}`} onClick=${flip}>${all ? t.noneOf : t.all}</button>`}
      ${those.map(({ id, name }) => html`<label class="check" key=${id}><input type="checkbox" value=${id} checked=${chosen.value.includes(id)}
        onChange=${(/** @type {any} */ e) => (chosen.value = e.target.checked ? [...chosen.peek(), id] : chosen.peek().filter((one) => one !== id))} /><span>${name}</span></label>`)}</fieldset>`;
  })}</div>`;
}

/**
 * The options as numbers, with what is wrong by its part.
 * @param {Options} options
 */
function readOptions({ size, own, copies, used, origin, region }) {
  const t = paper.labels;
  /** @type {Record<string, string>} */
  const wrong = {};
  const number = (/** @type {string} */ typed) => (/^\d{1,3}([.,]\d{1,2})?$/.test(typed.trim()) ? Number(typed.trim().replace(',', '.')) : NaN);
  const parts = Object.fromEntries(Object.keys(t.parts).map((part) => [part, number(/** @type {Record<string, string>} */ (own)[part])]));
  const grid = GRIDS[size] ?? /** @type {import('./label-grid.js').Grid & {cut?: boolean}} */ ({ paper: own.paper === 'letter' ? 'letter' : 'a4', ...parts });
  const bad = gridWrong(grid);
  if (bad) wrong[bad.part] = t.wrong[bad.why];
  const places = bad ? 1 : grid.columns * grid.rows;
  if (!(Number.isInteger(number(copies)) && number(copies) >= 1 && number(copies) <= 50)) wrong.copies = t.badCopies;
  if (!(Number.isInteger(number(used)) && number(used) < places)) wrong.used = t.badUsed(places - 1);
  if (origin === 'words' && !region.trim()) wrong.region = t.regionNone;
  else if (origin === 'words' && Array.from(region.trim()).length > MOST_REGION) wrong.region = t.regionLong;
  return { grid, wrong, copies: number(copies), used: number(used) };
}
