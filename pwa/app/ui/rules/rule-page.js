// One rule of a set that is being written: which kinds, what the notice says of them, how it
// will read.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { called, taxonNamed } from '../parts/kinds.js';
import { go } from '../route.js';
import { call, notRunning } from '../../core.js';
import { Confirm } from '../house/confirm.js';
import { Page } from '../house/page.js';
import { Radios, TextIn, Tick, toWrong } from './inputs.js';
import { QUESTIONS, toRule } from './rule-fields.js';
import { OfWhat } from './rule-of.js';
import { parts } from './rule-parts.js';
import { inWords } from './rule-words.js';
import { kindWords } from './says-list.js';
import { draft, setDraft, setRule } from './write-draft.js';
import { names, toDocument, wrongRule } from './write-fields.js';
import { ruleForm } from '../../text/en-rule-form.js';

/** @typedef {import('./rule-fields.js').RuleWritten} RuleWritten */

/** @param {{of: string, at: number}} props at: which rule of the set */
export function RulePage({ of, at }) {
  const t = ruleForm.rule;
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const fault = useSignal('');
  const asking = useSignal(false);
  const { set } = /** @type {import('./write-draft.js').Draft} */ (draft.value);
  const w = set.rules[at];
  const change = (/** @type {Partial<RuleWritten>} */ some) => setRule(at, some);
  /**
   * A first kind gives the rule its name, unless it has one.
   * @param {Pick<RuleWritten, 'of'>} some
   */
  const ofWhat = ({ of: kinds }) => {
    const [first, ...more] = kinds.taxa;
    const name = !w.name && w.of.taxa.length === 0 && more.length === 0 && first && taxonNamed(first)?.common ? called(first) : w.name;
    change({ of: kinds, ...(set.rules.some((other) => other.name === name) ? {} : { name }) });
  };
  const back = `/house/rules/write/${of}/rules`;
  useEffect(() => document.getElementById('rule-title')?.focus(), []);
  /** @param {Event} event */
  const keep = async (event) => {
    event.preventDefault();
    fault.value = '';
    wrong.value = wrongRule(set, at).wrong;
    if (Object.keys(wrong.value).length > 0) {
      announce(Object.values(wrong.value).join(' '));
      return toWrong();
    }
    // The core may know of something in it that contradicts itself. Without it the last step will tell.
    const name = names(set)[at];
    const alone = { ...toDocument(set), name: 'x', authority: 'x', ask: 'x', source: 'x', sourceDate: '2000-01-01', layer: 'regional', from: undefined, to: undefined, area: { place: 'x', everywhere: true }, rules: { [name]: wrongRule(set, at).rule } };
    try {
      await call('ruleset', { document: alone });
    } catch (error) {
      if (!notRunning(error)) {
        fault.value = /** @type {any} */ (error).message.replace(`rules.${name}`, name);
        return void requestAnimationFrame(() => document.getElementById('rule-fault')?.focus());
      }
    }
    announce(t.kept);
    go(back);
  };
  const out = () => {
    setDraft({ rules: set.rules.filter((_, i) => i !== at) });
    announce(t.outDone);
    go(back);
  };
  return html`<${Page} title=${t.title} to=${back} back=${ruleForm.steps.rules}>
    <h2 id="rule-title" tabindex="-1" class="unseen">${names(set)[at]}</h2>
    <form onSubmit=${keep} novalidate data-form="rule" class="rule-form"><div>
      <${OfWhat} w=${w} set=${ofWhat} wrong=${wrong.value['kind-search']} />
      <${Radios} name="take" legend=${t.take} hint=${t.takeHint} value=${w.take} set=${(/** @type {any} */ take) => change({ take })} options=${Object.entries(t.takes)} wrong=${wrong.value.take} />
      ${w.take !== 'forbidden' || w.asked.length > 0 ? html`<fieldset class="questions"><legend>${t.says}</legend>
        ${QUESTIONS.filter((question) => !(question in w.kept)).map((question) => {
          const on = w.asked.includes(question);
          const Part = parts[question];
          return html`<div key=${question} class="question" data-question=${question}>
            <${Tick} name=${`asks-${question}`} label=${t.questions[question]} checked=${on} set=${(/** @type {boolean} */ is) => change({ asked: is ? [...w.asked, question] : w.asked.filter((one) => one !== question) })} />
            ${on && html`<div class="answer"><${Part} w=${w} set=${change} wrong=${wrong.value} /></div>`}</div>`;
        })}</fieldset>` : ''}
      ${Object.keys(w.kept).length > 0 && html`<div class="kept-parts" data-kept=${Object.keys(w.kept).join(' ')}><p>${ruleForm.keptParts}</p><ul class="points">${inWords({ of: { all: true }, ...w.kept }).says.map((line) => html`<li key=${line}>${line}</li>`)}</ul></div>`}
      <${TextIn} id="rule-name" label=${t.name} hint=${t.nameHint} most=${60} value=${w.name} set=${(/** @type {string} */ name) => change({ name })} wrong=${wrong.value['rule-name']} />
      </div><${Preview} w=${w} name=${names(set)[at]} /><div>
      ${fault.value && html`<div class="refused" role="group" aria-labelledby="rule-fault"><h2 id="rule-fault" tabindex="-1">${fault.value}</h2></div>`}
      <button type="submit" class="main" data-do="keep-rule">${t.keep}</button>
      ${asking.value ? html`<${Confirm} asks=${t.outAsk} says=${t.outWhat} does=${t.outDo} act=${out} leave=${() => (asking.value = false)} />`
        : html`<button type="button" class="remove" data-do="rule-out" onClick=${() => (asking.value = true)}>${t.out}</button>`}
    </div></form>
  <//>`;
}

/**
 * Which part of a rule a control is of, by its id.
 * @param {string} id
 */
const partOf = (id) => id.match(/^(limits|sizes|season|hours|gear|use|cut|person|return|duties|note)/)?.[1] ?? '';

/**
 * How the rule reads as it is now. What is not filled in is named and not read, so that no
 * half sentence looks like a rule.
 * @param {{w: RuleWritten, name: string}} props
 */
function Preview({ w, name }) {
  const t = ruleForm.rule;
  const { rule, wrong } = toRule(w);
  const open = [...new Set(Object.keys(wrong).map(partOf))];
  const whole = Object.fromEntries(Object.entries(rule).filter(([part]) => !open.includes(part)));
  const { of, says } = inWords(whole, kindWords);
  const left = open.map((part) => (part === '' ? (wrong['kind-search'] ?? wrong.take) : t.questions[part]));
  return html`<section class="rule-says preview" aria-labelledby="preview" data-preview><h2 id="preview">${t.preview}</h2>
    <div aria-live="polite"><h3>${name}</h3>
      <p><strong>${wrong['kind-search'] ? '' : of}</strong></p>
      ${says.length > 0 ? html`<ul class="points">${says.map((line) => html`<li key=${line}>${line}</li>`)}</ul>` : html`<p class="soft">${t.previewNone}</p>`}
      ${left.length > 0 && html`<p class="soft" data-left>${t.open(left)}</p>`}</div>
  </section>`;
}
