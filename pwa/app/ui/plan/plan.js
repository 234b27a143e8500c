// Plan: when the shore is bare and lit.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { recalled, shore } from './shore-state.js';
import { ShoreHead } from './shore-head.js';
import { ShoreForm } from './shore-form.js';
import { SpanForm } from './span-form.js';
import { Windows } from './windows.js';
import { Cautions } from './cautions.js';
import { text } from '../../text/en.js';

export function Plan() {
  const changing = useSignal(false);
  /** @param {boolean} now */
  const change = (now) => {
    changing.value = now;
    document.getElementById('page')?.focus(); // the button that had it is gone
  };
  if (!recalled.value) return html`<h1>${text.plan.title}</h1>`;
  if (!shore.value || changing.value) {
    const first = !shore.value;
    return html`
      <h1>${first ? text.plan.title : text.form.title}</h1>
      ${first && html`<p>${text.plan.noShore}</p>`}
      <${ShoreForm} from=${shore.value} done=${() => change(false)} />
      <${Cautions} />`;
  }
  return html`
    <h1 class="unseen">${text.plan.title}</h1>
    <${ShoreHead} shore=${shore.value} change=${() => change(true)} />
    <div class="columns">
      <div><${SpanForm} /><${Cautions} /></div>
      <${Windows} />
    </div>`;
}
