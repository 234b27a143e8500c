// What follows from a reading that was kept: what is outside its range, and what to do.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { write } from '../../data/book.js';
import { may } from './picture-state.js';
import { AmmoniaMeaning } from './reading-ammonia.js';
import { ReadingRow } from './reading-row.js';
import { KINDS } from './reading-kinds.js';
import { rangesOf } from './tank-of.js';
import { water as t } from '../../text/en-tank-water.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @param {{of: string, saved: {id: string, fields: Record<string, any>, kept: boolean}, back: string, name: string, again: () => void}} props */
export function ReadingSaved({ of, saved, back, name, again }) {
  useEffect(() => document.getElementById('saved')?.focus(), []);
  const undo = async () => {
    await write('reading', saved.id, { deleted: true });
    announce(t.undone);
    again();
  };
  const ranges = rangesOf(of);
  return html`<div class="saved" data-saved=${saved.id}><p id="saved" tabindex="-1">${t.reading.saved}</p>${may.value.decide && html`<button type="button" class="quiet" data-do="undo" onClick=${undo}>${t.undo}</button>`}</div>
    <${AmmoniaMeaning} fields=${saved.fields} />
    <ul class="readings">${KINDS.filter((kind) => saved.fields[kind] !== undefined).map((kind) => html`<${ReadingRow} key=${kind} kind=${kind} value=${saved.fields[kind]} ranges=${ranges} />`)}</ul>
    <div class="tank-do">
      <${Link} class="button main" to=${back}>${text.check.toSystem(name)}<//>
      <button type="button" data-do="again" onClick=${again}>${t.reading.another}</button>
      ${may.value.decide && of.split('/')[0] !== 'specimen' && html`<${Link} class="button" to=${`/tanks/change/${of}`}>${t.reading.change}<//>`}
    </div>`;
}
