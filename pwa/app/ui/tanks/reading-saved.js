// What follows from a reading that was kept: what is outside its range, and what to do.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { write } from '../../data/book.js';
import { runOf } from './acclimate-runs.js';
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
  const [kind, id] = of.split('/');
  const run = kind === 'specimen' ? runOf(id) : undefined;
  return html`<div class="saved" data-saved=${saved.id}><p id="saved" tabindex="-1">${t.reading.saved}</p>${may.value.decide && html`<button type="button" class="quiet" data-do="undo" onClick=${undo}>${t.undo}</button>`}</div>
    <${AmmoniaMeaning} fields=${saved.fields} />
    <ul class="readings">${KINDS.filter((one) => saved.fields[one] !== undefined).map((one) => html`<${ReadingRow} key=${one} kind=${one} value=${saved.fields[one]} ranges=${ranges} />`)}</ul>
    <div class="tank-do">
      ${run ? html`<${Link} class="button main" to=${`/tanks/acclimate/run/${run.id}`} data-do="to-run">${t.acclimate.toRun}<//>` : html`<${Link} class="button main" to=${back}>${text.check.toSystem(name)}<//>`}
      <button type="button" data-do="again" onClick=${again}>${t.reading.another}</button>
      ${may.value.decide && kind !== 'specimen' && html`<${Link} class="button" to=${`/tanks/change/${of}`}>${t.reading.change}<//>`}
    </div>`;
}
