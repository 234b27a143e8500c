// Sheets for the lids of tanks: one of a whole sheet, or small ones for all, four to a sheet.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { recallKinds } from '../parts/kinds.js';
import { Link } from '../parts/link.js';
import { now } from '../parts/now.js';
import { Page } from '../house/page.js';
import { QR } from '../house/qr.js';
import { household } from '../../data/household.js';
import { codeRows } from './lid-code.js';
import { lidOf } from './lid-facts.js';
import { fitType } from './paper-fit.js';
import { PaperChoice, paperSize, PrintBar, Sheets } from './paper-sheet.js';
import { systems, tanks } from './picture-state.js';
import { Reckoned } from './system-reckoned.js';
import { paper } from '../../text/en-tank-paper.js';
import { tanks as words } from '../../text/en-tanks.js';

/** Names that a whole sheet and a small one have room for, letters of them in all, and of the tank's in large type. */
const ROOM = { whole: { names: 20, letters: 480, title: 24 }, small: { names: 4, letters: 140, title: 16 } };
const PER_SHEET = 4;
/** Lines for a pencil, with few names and with many. */
const NOTES = { few: 5, many: 2 };
const FEW = 6;

/** @param {HTMLElement} sheets */
const fit = (sheets) => void fitType(sheets, '.lid-who');

/** @param {{of: string[]}} props kind and id of a system or tank; "all"; or nothing */
export function LidPage({ of: [kind, id] }) {
  const t = paper.lid;
  useEffect(() => void recallKinds(), []);
  if (kind === 'all') return html`<${AllLids} />`;
  if (!kind) return html`<${Which} />`;
  const lid = lidOf(kind, id ?? '', now.value);
  if (!lid) return html`<${Page} title=${t.title} to="/tanks/lid" back=${t.listTitle}><p>${paper.gone}</p><//>`;
  return html`<${Page} title=${`${t.title}: ${lid.name}`} to=${`/tanks/system/${lid.ref}`} back=${lid.name}>
    <p class="screen">${t.why}</p>
    <div class="screen"><${Reckoned} /></div>
    <${PaperChoice} />
    <${PrintBar} />
    <${Sheets} paper=${paperSize.value} kind="lid" label=${paper.preview} measured=${fit} sheets=${[html`<${Lid} lid=${lid} size="whole" />`]} />
  <//>`;
}

function Which() {
  const t = paper.lid;
  const list = [...tanks.value.map(({ id }) => `tank/${id}`), ...systems.value.map(({ id }) => `system/${id}`)];
  return html`<${Page} title=${t.listTitle} to="/tanks" back=${words.title}>
    <p>${t.why}</p>
    ${list.length === 0 ? html`<p>${t.none}</p>` : html`<h2>${t.choose}</h2>
      <nav class="rows" aria-label=${t.choose}>${list.map((ref) => {
        const lid = lidOf(ref.slice(0, ref.indexOf('/')), ref.slice(ref.indexOf('/') + 1), now.value);
        return lid && html`<${Link} to=${`/tanks/lid/${ref}`}><strong>${lid.name}</strong><span class="soft">${lid.reckoned ? stateWords(lid) : paper.notReckoned}</span><//>`;
      })}</nav>
      <${Link} class="button main" to="/tanks/lid/all" data-do="all">${t.all}<//>`}
  <//>`;
}

function AllLids() {
  const t = paper.lid;
  const list = tanks.value.flatMap(({ id }) => lidOf('tank', id, now.value) ?? []);
  const sheets = Array.from({ length: Math.ceil(list.length / PER_SHEET) }, (_, i) => html`<div class="lid-four">
    ${list.slice(i * PER_SHEET, (i + 1) * PER_SHEET).map((lid) => html`<${Lid} key=${lid.ref} lid=${lid} size="small" />`)}</div>`);
  return html`<${Page} title=${t.allTitle} to="/tanks/lid" back=${t.listTitle}>
    ${list.length === 0 ? html`<p>${t.none}</p>` : html`<div class="screen"><${Reckoned} /></div><${PaperChoice} /><${PrintBar} />
      <${Sheets} paper=${paperSize.value} kind="lid" label=${paper.preview} measured=${fit} sheets=${sheets} />`}
  <//>`;
}

/** @param {import('./lid-facts.js').LidFacts} lid */
const stateWords = ({ state }) => paper.lid.states[/** @type {keyof typeof paper.lid.states} */ (state)] ?? paper.notReckoned;

/** @param {{lid: import('./lid-facts.js').LidFacts, size: 'whole' | 'small'}} props */
function Lid({ lid, size }) {
  const t = paper.lid;
  const link = location.origin + lid.path;
  const rows = codeRows(link);
  const shown = lid.residents.filter((_, i) => i < ROOM[size].names && lid.residents.slice(0, i + 1).join('').length <= ROOM[size].letters);
  const more = lid.residents.length - shown.length;
  return html`<div class=${`lid lid-${size}${lid.name.length > ROOM[size].title ? ' lid-long' : ''}`} data-lid=${lid.ref} data-state=${lid.state}>
    <header>
      <h2>${lid.name}</h2>
      ${household.value.name && html`<p>${household.value.name}</p>`}
    </header>
    <div class="lid-state">
      <p class="lid-word">${lid.quarantine && lid.state !== 'none' && html`<span>${t.isQuarantine}</span> `}<strong>${lid.reckoned ? stateWords(lid) : paper.notReckoned}</strong></p>
      ${lid.says.map((line) => html`<p>${line}</p>`)}
      <p class="lid-printed">${lid.printed}. ${t.later}</p>
    </div>
    <section class="lid-who"><h3>${t.residents}</h3>
      ${!lid.reckoned ? html`<p>${paper.notReckoned}</p>` : shown.length === 0 ? html`<p>${t.nobody}</p>` : html`<ul>${shown.map((line) => html`<li>${line}</li>`)}${more > 0 && html`<li>${t.more(more)}</li>`}</ul>`}
      ${lid.facts.map((line) => html`<p>${line}</p>`)}
    </section>
    ${size === 'whole' && html`<section class="lid-notes"><h3>${t.notes}</h3>${Array.from({ length: shown.length > FEW ? NOTES.many : NOTES.few }, () => html`<i />`)}</section>`}
    <ul class="lid-rules">${(size === 'small' ? lid.rules.slice(0, 3) : lid.rules).map((line) => html`<li>${line}</li>`)}</ul>
    <div class="lid-code">${rows ? html`<${QR} rows=${rows} label=${t.code(lid.name)} />` : html`<p>${t.noCode}</p>`}
      <p><span>${t.page}</span> <code>${link}</code></p></div>
  </div>`;
}
