// The short form for a rule of the household's own, with the help for shares of a patch.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { recallKinds } from '../parts/kinds.js';
import { Link } from '../parts/link.js';
import { go } from '../route.js';
import { call, notRunning } from '../../core.js';
import { dropDraft, keepDraft, keptDraft } from '../../data/drafts.js';
import { household } from '../../data/household.js';
import { uuidv7 } from '../../data/ids.js';
import { Page } from '../house/page.js';
import { ShoresPick, newChecked, wrongCheck } from './checked-form.js';
import { Radios, TextIn, toWrong } from './inputs.js';
import { justDone } from './list-page.js';
import { mayWrite, setNamed, setRules, shoreFields, today } from './on-file.js';
import { MAY_ALL, OWN, begun, newOwn, ofOwn, ownDocument, toOwn } from './own-fields.js';
import { Kinds } from './rule-of.js';
import { RuleSays } from './says-list.js';
import { ShareHelp } from './share-help.js';
import { ownRules as t, ruleForm } from '../../text/en-rule-form.js';
import { rules } from '../../text/en-rules.js';

/** @param {{id?: string}} props the set that is changed; none for a new one */
export function OwnPage({ id }) {
  const one = setNamed(id);
  const back = { to: id ? `/house/rules/set/${id}` : '/house/rules', back: rules.back };
  const title = id ? t.editTitle : t.title;
  useEffect(() => void recallKinds(), []);
  if (!mayWrite.value) return html`<${Page} title=${title} ...${back}><p>${rules.reads}</p><//>`;
  if (!id) return html`<${Page} title=${title} ...${back}><${OwnForm} /><//>`;
  if (!one) return html`<${Page} title=${title} ...${back}><p>${rules.set.gone}</p><//>`;
  const w = ofOwn(one.document);
  if (!w) return html`<${Page} title=${title} ...${back}><p>${t.other}</p><${Link} class="button main" to=${`/house/rules/write/${id}`} data-do="long">${t.long}<//><//>`;
  return html`<${Page} title=${title} ...${back}><${OwnForm} one=${one} is=${w} /><//>`;
}

const DRAFT = 'rules-own';

/** @param {{one?: import('./on-file.js').OnFile, is?: import('./own-fields.js').OwnWritten}} props */
function OwnForm({ one, is }) {
  const w = useSignal(is ?? newOwn());
  const checked = useSignal({ ...newChecked(), shores: one?.shores ?? [], none: one?.shores?.length === 0 });
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  useEffect(() => {
    if (!one) keptDraft(DRAFT).then((kept) => kept?.kind && !w.peek().kind && (w.value = { ...newOwn(), ...kept }), () => {});
  }, []);
  const set = (/** @type {Partial<import('./own-fields.js').OwnWritten>} */ some) => {
    w.value = { ...w.peek(), ...some };
    if (!one) keepDraft(DRAFT, w.value);
  };
  const of = w.value;
  const made = toOwn(of);
  const document_ = ownDocument(made.name, made.rule, today.value, household.value.name);
  /** @param {Event} event */
  const put = async (event) => {
    event.preventDefault();
    wrong.value = { ...made.wrong, ...wrongCheck(checked.peek(), document_, one?.id) };
    if (Object.keys(wrong.value).length > 0) {
      announce(Object.values(wrong.value).join(' '));
      return toWrong();
    }
    try {
      const { document: tidy } = await call('ruleset', { document: document_ });
      const id = one?.id ?? uuidv7();
      const kept = await setRules(id, { document: tidy, ...shoreFields(checked.peek().shores) });
      justDone.value = kept ? rules.import.done(tidy.name) : rules.unkept;
      if (!one && kept) await dropDraft(DRAFT);
      go(`/house/rules/set/${id}`);
    } catch (error) {
      wrong.value = { 'own-kind': notRunning(error) ? ruleForm.notReckoned : /** @type {any} */ (error).message };
      toWrong();
    }
  };
  const asksN = of.kind !== '' && of.kind !== 'never';
  return html`<p>${t.why}</p><form onSubmit=${put} novalidate data-form="own">
    <${Radios} name="own-kind" legend=${t.kind} value=${of.kind} set=${(/** @type {any} */ kind) => set(begun(kind))} options=${OWN.map((kind) => [kind, t.kinds[kind]])} wrong=${wrong.value['own-kind']} />
    ${of.kind && html`
      ${MAY_ALL.includes(of.kind) && html`<${Radios} name="own-of" legend=${t.of} value=${of.all ? 'all' : 'named'} set=${(/** @type {string} */ what) => set({ all: what === 'all' })} options=${Object.entries(t.ofs)} />`}
      ${!of.all && html`<${Kinds} of=${of} change=${set} wrong=${wrong.value['kind-search']} />`}
      ${asksN && html`<${TextIn} id="own-n" label=${t.ask[of.kind]} hint=${t.hint[of.kind]} mode="decimal" value=${of.n} set=${(/** @type {string} */ n) => set({ n })} wrong=${wrong.value['own-n']} />`}
      ${of.kind === 'share' && html`<${ShareHelp} />`}
      <${ShoresPick} w=${checked.value} set=${(/** @type {any} */ change) => (checked.value = { ...checked.peek(), ...change })} wrong=${wrong.value['for-shores']} document=${document_} />
      <${TextIn} id="own-name" label=${t.name} hint=${t.nameHint} most=${60} value=${of.name} set=${(/** @type {string} */ name) => set({ name })} wrong=${wrong.value['own-name']} />
      <p class="wrong">${wrong.value.full}</p>
      ${Object.keys(made.wrong).length === 0 && html`<div aria-live="polite" data-preview><${RuleSays} name=${made.name} rule=${made.rule} /></div>`}
      <button type="submit" class="main" data-do="put">${t.put}</button>`}
  </form>`;
}
