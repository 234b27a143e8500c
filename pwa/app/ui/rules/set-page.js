// One rule set: whose it is, how old its check, what it says and asks, where it holds.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { recallKinds } from '../parts/kinds.js';
import { Link } from '../parts/link.js';
import { go } from '../route.js';
import { call, notRunning } from '../../core.js';
import { rulesRead } from '../../data/rules.js';
import { Confirm } from '../house/confirm.js';
import { Page } from '../house/page.js';
import { AgeLine } from './age-line.js';
import { CheckAgain } from './check-again.js';
import { asksShores, ShoresPick } from './checked-form.js';
import { handOut } from './file.js';
import { justDone, shoreNames } from './list-page.js';
import { isOwn, mayWrite, nameOf, rulesOf, setNamed, setRules, shoreFields } from './on-file.js';
import { questionsOf } from './questions.js';
import { SaysList, SetFacts } from './says-list.js';
import { rules } from '../../text/en-rules.js';

/** @param {{id: string}} props */
export function SetPage({ id }) {
  const t = rules.set;
  const one = setNamed(id);
  useEffect(() => {
    recallKinds();
    if (justDone.peek()) announce(justDone.peek());
    justDone.value = '';
  }, []);
  const back = { to: '/house/rules', back: rules.back };
  if (!one) return html`<${Page} title=${rules.title} ...${back}>${rulesRead.value && html`<p>${t.gone}</p>`}<//>`;
  const questions = questionsOf(one.document);
  return html`<${Page} title=${nameOf(one)} ...${back}>
    <${Unread} document=${one.document} />
    <p><${AgeLine} of=${one} long=${true} /></p>
    ${!isOwn(one) && html`<p class="heed" data-above>${rules.above}</p>`}
    <div class="rules-cols set-cols"><div>
      <${SetFacts} document=${one.document}><dt>${t.shores}</dt><dd data-shores>${shoreNames(one)}</dd><//>
      ${mayWrite.value && asksShores(one.document) && html`<${ChangeShores} key=${(one.shores ?? []).join()} one=${one} />`}
      ${mayWrite.value && !isOwn(one) && html`<${CheckAgain} one=${one} />`}
    </div><div>
      <section aria-labelledby="says"><h2 id="says">${t.rules}</h2><${SaysList} rules=${rulesOf(one)} /></section>
      ${questions.length > 0 && html`<section aria-labelledby="asks"><h2 id="asks">${t.questions}</h2><ul class="points" data-questions>${questions.map((ask) => html`<li key=${ask}>${ask}</li>`)}</ul></section>`}
    </div><div>
    <div class="set-does">
      <${Link} class="button" to="/house/rules/try" data-do="try">${rules.try}<//>
      ${mayWrite.value && html`<${Link} class="button" to=${isOwn(one) ? `/house/rules/own/${id}` : `/house/rules/write/${id}`} data-do="edit">${t.edit}<//>`}
      <${Link} class="button" to=${`/house/rules/past/${id}`} data-do="history">${t.history}<//>
    </div>
    ${mayWrite.value && html`<${HandOut} document=${one.document} /><${Remove} one=${one} />`}
    </div></div>
  <//>`;
}

/**
 * What the core cannot read permits nothing; the page says so and why.
 * @param {{document: Record<string, any>}} props
 */
function Unread({ document }) {
  const why = useSignal('');
  useEffect(() => {
    call('ruleset', { document }).then(() => (why.value = ''), (error) => (why.value = notRunning(error) ? '' : error.message));
  }, [document]);
  return why.value && html`<div class="refused" role="alert" data-unread><p>${rules.unread}</p><p>${why.value}</p></div>`;
}

/** @param {{one: import('./on-file.js').OnFile}} props */
function ChangeShores({ one }) {
  const t = rules.set;
  const open = useSignal(false);
  const w = useSignal({ shores: one.shores ?? [], none: one.shores?.length === 0 });
  const wrong = useSignal('');
  /** @param {Event} event */
  const keep = async (event) => {
    event.preventDefault();
    const { shores, none } = w.peek();
    wrong.value = !none && shores.length === 0 ? rules.check.needShores : '';
    if (wrong.value) return document.getElementById('for-shores')?.focus();
    announce((await setRules(one.id, shoreFields(shores))) ? t.shoresKept : rules.unkept);
  };
  if (!open.value) return html`<button type="button" class="quiet start" data-do="shores" onClick=${() => (open.value = true)}>${t.shores}: ${t.shoresChange.toLowerCase()}</button>`;
  return html`<form onSubmit=${keep} novalidate data-form="shores">
    <${ShoresPick} w=${w.value} set=${(/** @type {any} */ change) => (w.value = { ...w.peek(), ...change })} wrong=${wrong.value} document=${one.document} />
    <button type="submit" data-do="keep-shores">${t.shoresKeep}</button></form>`;
}

/** @param {{document: Record<string, any>}} props */
function HandOut({ document }) {
  const t = rules.set;
  const says = useSignal('');
  const act = async () => {
    const how = await handOut(document).catch(() => 'not');
    says.value = how === 'shared' ? t.shared : how === 'saved' ? t.exported : how === 'not' ? t.notExported : '';
    announce(says.value);
  };
  return html`<div class="hand-out"><button type="button" data-do="export" onClick=${act}>${t.export}</button>
    <p class="soft">${t.exportWhy}</p><p data-exported>${says.value}</p></div>`;
}

/** @param {{one: import('./on-file.js').OnFile}} props */
function Remove({ one }) {
  const t = rules.set;
  const asking = useSignal(false);
  const name = nameOf(one);
  const act = async () => {
    justDone.value = (await setRules(one.id, { deleted: true })) ? t.removed(name) : rules.unkept;
    go('/house/rules');
  };
  return asking.value
    ? html`<${Confirm} asks=${t.removeAsk(name)} says=${t.removeWhat} does=${t.removeDo} act=${act} leave=${() => (asking.value = false)} />`
    : html`<button type="button" class="remove" data-do="remove" onClick=${() => (asking.value = true)}>${t.remove}</button>`;
}
