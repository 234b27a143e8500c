// The list: which windows are asked for, and the windows.

import { html } from '../parts/html.js';
import { AskForm } from './ask-form.js';
import { BeforeYouGo } from './before-you-go.js';
import { ChosenBar } from './chosen.js';
import { ListSheet } from './list-sheet.js';
import { StationCautions } from './station-cautions.js';
import { Views } from './views.js';
import { Windows } from './windows.js';
import { text } from '../../text/en.js';

/** @param {{shore: import('./shore-state.js').Shore}} props */
export function ListPage({ shore }) {
  return html`<div class="screen">
      <h1 class="unseen">${text.plan.title}</h1>
      <${Views} now="list" />
      <div class="columns">
        <div><${AskForm} /><${BeforeYouGo} /><${StationCautions} /></div>
        <div><${Windows} shore=${shore} />
          <button type="button" class="quiet print" onClick=${() => print()}>${text.year.printList}</button></div>
      </div>
      <${ChosenBar} />
    </div>
    <${ListSheet} shore=${shore} />`;
}
