// What was noted of a change or a top-up, to be taken back or noted once more.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { write } from '../../data/book.js';
import { may } from './picture-state.js';
import { OldWater } from './acclimate-water.js';
import { water as all } from '../../text/en-tank-water.js';

/** @param {{of: string, saved: {ids: string[], says: string}, again: () => void, top?: boolean}} props */
export function ChangeSaved({ of, saved, again, top }) {
  const id = top ? 'topped' : 'changed';
  useEffect(() => document.getElementById(id)?.focus(), []);
  const undo = async () => {
    for (const one of saved.ids) await write('event', one, { deleted: true });
    announce(all.undone);
    again();
  };
  return html`<div class="saved" data-saved=${id}><p id=${id} tabindex="-1">${saved.says}</p>${may.value.decide && html`<button type="button" class="quiet" data-do="undo" onClick=${undo}>${all.undo}</button>`}</div>
    <div class="tank-do"><${Link} class="button" to=${`/tanks/reading/${of}`}>${all.change.readAfter}<//><button type="button" data-do="again" onClick=${again}>${all.change.again}</button></div>
    ${!top && html`<${OldWater} changed=${true} />`}`;
}
