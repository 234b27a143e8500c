// The step with the rules: each in plain sentences, to change, and one more.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { go } from '../route.js';
import { Radios, TextIn } from './inputs.js';
import { newRule } from './rule-fields.js';
import { RuleSays } from './says-list.js';
import { draft, setDraft } from './write-draft.js';
import { names, wrongRule } from './write-fields.js';
import { ruleForm as t } from '../../text/en-rule-form.js';

/** @param {{of: string, wrong: Record<string, string>}} props */
export function StepRules({ of, wrong }) {
  const { set } = /** @type {import('./write-draft.js').Draft} */ (draft.value);
  const called = names(set);
  const own = set.layer === 'household';
  const add = () => {
    setDraft({ rules: [...set.rules, newRule()] });
    go(`/house/rules/write/${of}/rules/${set.rules.length}`);
  };
  return html`<p>${t.rulesWhy}</p>
    ${set.rules.length === 0 && html`<p>${t.noRules}</p>`}
    <div class="says-list">${set.rules.map((_, i) => {
      const { rule, wrong: open } = wrongRule(set, i);
      const edit = html`<${Link} class="button" to=${`/house/rules/write/${of}/rules/${i}`} data-edit=${i} aria-label=${t.editRule(called[i])}>${t.edit}<//>`;
      return Object.keys(open).length > 0
        ? html`<section class="rule-says" key=${i} data-rule=${called[i]} data-open><h3>${called[i]}</h3><p class="wrong"><strong>${t.unfinished}</strong></p>${edit}</section>`
        : html`<${RuleSays} key=${i} name=${called[i]} rule=${rule}>${edit}<//>`;
    })}</div>
    <button type="button" id="add-rule" data-do="add-rule" aria-describedby="add-rule-wrong" aria-invalid=${Boolean(wrong['add-rule'])} onClick=${add}>${t.add}</button>
    <p id="add-rule-wrong" class="wrong">${wrong['add-rule']}</p>
    ${!own && html`<${Radios} name="set-otherwise" legend=${t.otherwise} hint=${t.otherwiseHint} value=${set.otherwise} set=${(/** @type {string} */ is) => setDraft({ otherwise: is })}
      options=${Object.entries(t.otherwises)} wrong=${wrong['set-otherwise']} />`}
    <${TextIn} id="set-note" label=${t.note} lines=${2} value=${set.note} set=${(/** @type {string} */ note) => setDraft({ note })} wrong=${wrong['set-note']} />`;
}
