// Writing a set from a notice, a step a page: who makes the rules, where they are written, where
// they hold, the rules one at a time, and who checked it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { recallKinds } from '../parts/kinds.js';
import { Link } from '../parts/link.js';
import { go } from '../route.js';
import { ready } from '../../data/book.js';
import { Confirm } from '../house/confirm.js';
import { Page } from '../house/page.js';
import { mayWrite, setNamed } from './on-file.js';
import { sorted } from './own-fields.js';
import { RulePage } from './rule-page.js';
import { StepCheck } from './step-check.js';
import { StepRules } from './step-rules.js';
import { StepSource, StepWhere, StepWho } from './step-facts.js';
import { toWrong } from './inputs.js';
import { begin, draft, drop, recall } from './write-draft.js';
import { STEPS, begun, ofDocument, wrongIn } from './write-fields.js';
import { ruleForm as t } from '../../text/en-rule-form.js';
import { rules } from '../../text/en-rules.js';

const pages = { who: StepWho, source: StepSource, where: StepWhere, rules: StepRules, check: StepCheck };

/** @param {{of?: string, step?: string, rule?: string}} props of: 'new' or the id of a set; none for the first page */
export function WritePage({ of, step, rule }) {
  const read = useSignal(false);
  useEffect(() => {
    recallKinds();
    (async () => {
      await ready('ruleset');
      const one = of && of !== 'new' ? setNamed(of) : undefined;
      const from = one ? JSON.stringify(sorted(one.document)) : '';
      const found = await recall(of ?? 'new', from);
      // A set on file is changed from what it is now, with the shores that it has.
      if (!found && one) await begin(one.id, ofDocument(one.document), from, { shores: one.shores ?? [], none: one.shores?.length === 0 });
      read.value = true;
    })();
  }, [of]);
  const back = { to: '/house/rules', back: rules.back };
  if (!mayWrite.value) return html`<${Page} title=${t.title} ...${back}><p>${rules.reads}</p><//>`;
  if (!read.value) return html`<${Page} title=${t.title} ...${back} />`;
  if (!of) return html`<${Start} />`;
  const now = draft.value;
  if (!now) return html`<${Page} title=${t.title} ...${back}><p>${t.gone}</p><${Link} class="button" to="/house/rules/write">${t.title}<//><//>`;
  if (step === 'rules' && rule !== undefined && now.set.rules[Number(rule)]) return html`<${RulePage} key=${rule} of=${of} at=${Number(rule)} />`;
  const name = STEPS.find((one) => one === step) ?? 'who';
  return html`<${StepPage} key=${name} of=${of} step=${name} />`;
}

/** @param {{of: string, then: () => void}} props */
function ThrowAway({ of, then }) {
  const asking = useSignal(false);
  const act = async () => {
    await drop(of);
    announce(t.dropped);
    then();
  };
  return asking.value ? html`<${Confirm} asks=${t.dropAsk} says=${t.dropWhat} does=${t.drop} act=${act} leave=${() => (asking.value = false)} />`
    : html`<button type="button" class="remove" data-do="drop" onClick=${() => (asking.value = true)}>${t.drop}</button>`;
}

function Start() {
  const now = draft.value;
  /** @param {string} start */
  const choose = async (start) => {
    await begin('new', begun(start));
    go('/house/rules/write/new/who');
  };
  return html`<${Page} title=${t.title} to="/house/rules" back=${rules.back}>
    ${now && html`<section class="doubt" data-began><p>${t.began(now.set.name)}</p>
      <${Link} class="button main" to="/house/rules/write/new/who" data-do="go-on">${t.goOn}<//>
      <${ThrowAway} of="new" then=${() => requestAnimationFrame(() => document.getElementById('starts')?.focus())} /></section>`}
    ${!now && html`<section aria-labelledby="starts" class="starts"><h2 id="starts" tabindex="-1">${t.startTitle}</h2><p>${t.startWhy}</p>
      ${Object.entries(t.starts).map(([is, [name, hint]]) => html`<button type="button" key=${is} data-start=${is} onClick=${() => choose(is)}><strong>${name}</strong><span class="soft">${hint}</span></button>`)}</section>`}
  <//>`;
}

/** @param {{of: string, step: import('./write-fields.js').Step}} props */
function StepPage({ of, step }) {
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const at = STEPS.indexOf(step);
  const set = /** @type {import('./write-draft.js').Draft} */ (draft.value).set;
  const Step = pages[step];
  useEffect(() => document.getElementById('step-title')?.focus(), []);
  /** @param {Event} event */
  const next = (event) => {
    event.preventDefault();
    wrong.value = wrongIn(set, step);
    if (Object.keys(wrong.value).length > 0) {
      announce(Object.values(wrong.value).join(' '));
      return toWrong();
    }
    go(`/house/rules/write/${of}/${STEPS[at + 1]}`);
  };
  return html`<${Page} title=${of === 'new' ? t.title : t.editTitle} to=${of === 'new' ? '/house/rules' : `/house/rules/set/${of}`} back=${of === 'new' ? rules.back : set.name}>
    <ol class="step-marks" aria-label=${t.stepsLabel}>${STEPS.map((one, i) => html`<li key=${one} data-step=${one} aria-current=${one === step ? 'step' : undefined} data-done=${String(i < at)}><span>${i + 1}</span></li>`)}</ol>
    <h2 id="step-title" tabindex="-1">${t.step(at + 1, STEPS.length, t.steps[step])}</h2>
    ${step === 'check' ? html`<${Step} of=${of} />` : html`<form onSubmit=${next} novalidate data-form=${step}>
      <${Step} of=${of} wrong=${wrong.value} />
      <p class="soft">${t.kept}</p>
      <div class="two">${at > 0 ? html`<${Link} class="button" to=${`/house/rules/write/${of}/${STEPS[at - 1]}`} data-do="before">${t.before}<//>` : html`<span></span>`}
        <button type="submit" class="main" data-do="next">${t.next}</button></div>
    </form>`}
    <${ThrowAway} of=${of} then=${() => go(of === 'new' ? '/house/rules' : `/house/rules/set/${of}`)} />
  <//>`;
}
