// A part of a lot becomes a specimen of its own: it keeps its origin and the days behind it.
// Two of one kind are put together: they are watched only as far as both were.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Field } from '../parts/field.js';
import { write } from '../../data/book.js';
import { AmountPick } from '../shore/find-parts.js';
import { amountOf } from '../shore/amount.js';
import { alike, nameOf, picture, specimenOf, systemOf, tanks, writeEvent } from './picture-state.js';
import { observer } from './check-who.js';
import { ActForm, TankPick } from './specimen-act.js';
import { partOff } from './specimen-parted.js';
import { tanks as text } from '../../text/en-tanks.js';
import { text as all } from '../../text/en.js';

/** As internal/book has it, in characters. */
const MOST_NAME = 80;

/** @param {{one: import('./specimen-page.js').Specimen}} props */
export function PartForm({ one }) {
  const t = text.part;
  const amount = useSignal({ value: '1', unit: one.amount?.unit ?? 'count' });
  const name = useSignal('');
  const tank = useSignal('');
  const wrong = useSignal(/** @type {{amount?: string, name?: string}} */ ({}));
  const note = async () => {
    const { value, unit } = amount.value;
    const n = amountOf(value, unit);
    const has = one.amount && one.amount.unit === unit ? one.amount.value : undefined;
    wrong.value = {
      amount: n === undefined || n <= 0 ? all.log.needAmount : has !== undefined && n >= has ? t.tooMuch(all.finds.amount(has, unit)) : undefined,
      name: Array.from(name.value.trim()).length > MOST_NAME ? all.trip.tooLong(MOST_NAME) : undefined,
    };
    if (wrong.value.amount || wrong.value.name) return { wrong: [wrong.value.amount, wrong.value.name].filter(Boolean).join(' ') };
    const by = observer.peek();
    const part = await partOff(one, { amount: n === undefined ? undefined : { value: n, unit }, name: name.value.trim(), by });
    const moved = !tank.value || (await writeEvent('moved', { of: `specimen/${part.id}`, by, tank: tank.value })).kept;
    return { kept: part.kept && moved };
  };
  const others = tanks.value.filter(({ id, use }) => id !== one.state?.tank && use !== 'display');
  return html`<${ActForm} back=${`/tanks/specimen/${one.id}`} does=${t.do} said=${t.done(nameOf(`specimen/${one.id}`))} note=${note}>
    <p>${t.what}</p>
    <${AmountPick} of=${amount.value} set=${(/** @type {any} */ change) => (amount.value = { ...amount.value, ...change })} wrong=${wrong.value.amount} />
    <${Field} id="part-name" label=${t.name} value=${name} mode="text" wrong=${wrong.value.name} />
    ${others.length > 0 && html`<${TankPick} id="to" label=${t.to} list=${others} value=${tank} none=${t.stays} />`}
  <//>`;
}

/** @param {{one: import('./specimen-page.js').Specimen}} props */
export function MergeForm({ one }) {
  const t = text.merge;
  const into = useSignal('');
  const wrong = useSignal('');
  const list = (picture.value?.specimens ?? []).filter(({ id, system, gone }) => id !== one.id && system && !gone && alike(specimenOf(id), one))
    .map(({ id, tank }) => ({ id, name: [nameOf(`specimen/${id}`), nameOf(`tank/${tank}`)].join(', ') }));
  const other = into.value ? specimenOf(into.value)?.state : undefined;
  const apart = other && other.system !== one.state?.system;
  const note = async () => {
    wrong.value = into.value ? '' : t.need;
    if (wrong.value) return { wrong: wrong.value };
    const [a, b] = [one.amount, specimenOf(into.value)?.amount];
    let kept = true;
    if (a && b && a.unit === b.unit) kept = await write('specimen', into.value, { amount: { unit: a.unit, value: Math.round((a.value + b.value) * 1000) / 1000 } });
    return { kept: (await writeEvent('merged', { of: `specimen/${one.id}`, by: observer.peek(), into: into.value })).kept && kept };
  };
  if (list.length === 0) return html`<p>${t.none}</p>`;
  return html`<${ActForm} back=${`/tanks/specimen/${one.id}`} does=${t.do} said=${t.done} note=${note}>
    <p>${t.what}</p>
    <${TankPick} id="into" label=${t.with} list=${list} value=${into} none=${t.choose} wrong=${wrong.value} />
    ${apart && html`<p class="heed" data-restarts>${text.settleIn.restarts(systemOf(other?.system ?? '')?.state?.residents.length ?? 1)}</p>`}
  <//>`;
}
