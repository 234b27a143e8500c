// The last step: the whole set once more, who compared it with its source, and onto file, when
// the core accepts it.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { go } from '../route.js';
import { call, notRunning } from '../../core.js';
import { uuidv7 } from '../../data/ids.js';
import { CheckedForm, asksShores, wrongCheck } from './checked-form.js';
import { toWrong } from './inputs.js';
import { justDone } from './list-page.js';
import { rulesOf, setRules, shoreFields } from './on-file.js';
import { SaysList, SetFacts } from './says-list.js';
import { draft, drop, setChecked } from './write-draft.js';
import { STEPS, toDocument, wrongIn } from './write-fields.js';
import { ruleForm as t } from '../../text/en-rule-form.js';
import { rules } from '../../text/en-rules.js';

/** @param {{of: string}} props */
export function StepCheck({ of }) {
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const fault = useSignal('');
  const { set, checked } = /** @type {import('./write-draft.js').Draft} */ (draft.value);
  const document_ = toDocument(set);
  const open = STEPS.find((step) => Object.keys(wrongIn(set, step)).length > 0);
  /** @param {Event} event */
  const put = async (event) => {
    event.preventDefault();
    wrong.value = wrongCheck(checked, document_, of === 'new' ? undefined : of);
    fault.value = '';
    if (Object.keys(wrong.value).length > 0) {
      announce(Object.values(wrong.value).join(' '));
      return toWrong();
    }
    try {
      const { document: tidy } = await call('ruleset', { document: document_ });
      const id = of === 'new' ? uuidv7() : of;
      const { on, by, shores } = checked;
      const kept = await setRules(id, { document: tidy, checked: set.layer === 'household' ? null : { on, by: by.trim() }, ...(asksShores(tidy) ? shoreFields(shores) : {}) });
      justDone.value = kept ? rules.import.done(tidy.name) : rules.unkept;
      if (kept) await drop(of); // what this phone did not keep can be tried again
      go(`/house/rules/set/${id}`);
    } catch (error) {
      fault.value = notRunning(error) ? t.notReckoned : /** @type {any} */ (error).message;
      requestAnimationFrame(() => document.getElementById('not-whole')?.focus());
    }
  };
  if (open) {
    return html`<div class="refused" data-open-step=${open}><p>${Object.values(wrongIn(set, open)).join(' ')}</p></div>
      <${Link} class="button main" to=${`/house/rules/write/${of}/${open}`}>${t.steps[open]}<//>`;
  }
  return html`<p class="heed">${rules.above}</p>
    <section class="found-set"><${SetFacts} document=${document_} /><${SaysList} rules=${rulesOf({ document: document_ })} /></section>
    ${fault.value && html`<div class="refused" role="group" aria-labelledby="not-whole"><h2 id="not-whole" tabindex="-1">${t.faulty}</h2><p>${fault.value}</p></div>`}
    <form onSubmit=${put} novalidate data-form="check">
      <${CheckedForm} w=${checked} set=${setChecked} wrong=${wrong.value} document=${document_} />
      <div class="two"><${Link} class="button" to=${`/house/rules/write/${of}/rules`} data-do="before">${t.before}<//>
        <button type="submit" class="main" data-do="put">${t.put}</button></div>
    </form>`;
}
