// What can be done with a specimen beside looking at it: each its title and its form.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Field } from '../parts/field.js';
import { called } from '../parts/kinds.js';
import { call } from '../../core.js';
import { Choices } from '../shore/find-parts.js';
import { systemOf, writeEvent } from './picture-state.js';
import { observer } from './check-who.js';
import { ActForm, wordsWrong } from './specimen-act.js';
import { DiedForm, GoneForm } from './specimen-died.js';
import { missingWords } from './specimen-missing.js';
import { MoveForm } from './specimen-move.js';
import { MergeForm, PartForm } from './specimen-part.js';
import { care } from '../../text/en-care.js';
import { tanks as text } from '../../text/en-tanks.js';

/**
 * A dip or a treatment: of the protocol it changes nothing, in haste it starts the wait anew.
 * @param {{one: import('./specimen-page.js').Specimen}} props
 */
function TreatForm({ one }) {
  const t = text.treat;
  const what = useSignal('dipped');
  const planned = useSignal('yes');
  const how = useSignal('');
  const wrong = useSignal('');
  const note = async () => {
    wrong.value = wordsWrong(how.value, t.needHow);
    if (wrong.value) return { wrong: wrong.value };
    return writeEvent(what.value, { of: `specimen/${one.id}`, by: observer.peek(), how: how.value.trim(), planned: planned.value === 'yes' });
  };
  return html`<${ActForm} back=${`/tanks/specimen/${one.id}`} does=${t.do} said=${t.done} note=${note}>
    <${Choices} name="what" legend=${t.what} is=${what.value} choose=${(/** @type {string} */ is) => (what.value = is)} options=${[['dipped', t.dipped], ['treated', t.treated]]} />
    <${Choices} name="planned" legend=${t.planned} is=${planned.value} choose=${(/** @type {string} */ is) => (planned.value = is)} options=${[['yes', t.yes], ['no', t.no]]} />
    ${what.value === 'dipped' && html`<${FreshWater} of=${one} />`}
    ${planned.value === 'no' && html`<p class="heed" data-restarts>${t.restarts}</p>`}
    <${Field} id="how" label=${t.how} hint=${t.howHint} value=${how} mode="text" wrong=${wrong.value} />
  <//>`;
}

/**
 * How long it bears fresh water, where that is known; until then it is not dipped in any.
 * @param {{of: import('./specimen-page.js').Specimen}} props
 */
function FreshWater({ of: { taxon, group } }) {
  const got = useSignal(/** @type {{freshDipS: number, freshFrom: string} | undefined} */ (undefined));
  useEffect(() => {
    call('care', { kinds: [{ group: group ?? '', taxon }] }).then(([first]) => (got.value = first), () => {});
  }, [taxon, group]);
  const known = group && got.value;
  if (!known) return html`<p class="heed" data-fresh="unknown">${care.unknown}</p>`;
  const name = called(taxon);
  return html`<p class="heed" data-fresh=${known.freshDipS}>${known.freshDipS === 0 ? care.never(name) : care.atMost(name, Math.floor(known.freshDipS / 60))} <span class="soft">${care.from(known.freshFrom)}</span></p>`;
}

/**
 * A keeper's decision against the clock, with a reason that stays in the book.
 * @param {{one: import('./specimen-page.js').Specimen}} props
 */
function OverruleForm({ one }) {
  const t = text.overrule;
  const reason = useSignal('');
  const wrong = useSignal('');
  const note = async () => {
    wrong.value = wordsWrong(reason.value, t.need);
    if (wrong.value) return { wrong: wrong.value };
    return writeEvent('overruled', { of: `specimen/${one.id}`, by: observer.peek(), what: 'clearance', reason: reason.value.trim() });
  };
  const stopped = one.state?.missing.includes('stopped');
  const lines = one.state ? missingWords(one.state, systemOf(one.state.system ?? '')?.state) : [];
  if (stopped) return html`<p class="heed">${t.never}</p>`;
  return html`<${ActForm} back=${`/tanks/specimen/${one.id}`} does=${t.do} said=${t.done} grave note=${note}>
    <p>${t.what}</p><ul class="points">${lines.map((line) => html`<li>${line}</li>`)}</ul>
    <p>${t.holds}</p>
    <${Field} id="reason" label=${t.reason} value=${reason} mode="text" lines="3" wrong=${wrong.value} />
  <//>`;
}

/** @param {string} key of the text */
const titled = (key) => (/** @type {string} */ name) => /** @type {Record<string, any>} */ (text)[key].title(name);

/**
 * By the third part of the path.
 * @type {Record<string, {title: (name: string) => string, Form: (props: {one: import('./specimen-page.js').Specimen}) => any}>}
 */
export const acts = {
  move: { title: titled('move'), Form: MoveForm },
  treat: { title: titled('treat'), Form: TreatForm },
  part: { title: titled('part'), Form: PartForm },
  merge: { title: titled('merge'), Form: MergeForm },
  died: { title: titled('died'), Form: DiedForm },
  gone: { title: titled('goneForm'), Form: GoneForm },
  overrule: { title: titled('overrule'), Form: OverruleForm },
};
