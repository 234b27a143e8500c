// How what was taken travels home, kind by kind, while it can still be packed so.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { called, recallKinds } from '../parts/kinds.js';
import { call } from '../../core.js';
import { ready } from '../../data/book.js';
import { householdFields } from '../../data/household.js';
import { findsOf } from './finds-state.js';
import { takenOf } from './find.js';
import { care as t } from '../../text/en-care.js';

/** @typedef {{group: string, taxon: string, carry: {how: string, lowC: number | null, highC: number | null, withinC?: number, hours: number, from: string}}} Care */

/** @param {{of: string}} props the outing's id */
export function Carry({ of }) {
  useEffect(() => {
    recallKinds();
    ready('household');
  }, []);
  const taken = findsOf(of).filter((find) => takenOf([find]).length > 0 && find.state !== 'empty');
  const kinds = [...new Map(taken.map(({ taxon, group }) => [`${group}/${taxon}`, { group, taxon }])).values()];
  const climate = householdFields.value.home?.climate;
  const asks = JSON.stringify({ kinds, tropical: climate === 'tropical' });
  const got = useSignal(/** @type {{asks: string, list: Care[]} | undefined} */ (undefined));
  useEffect(() => {
    if (kinds.length === 0) return undefined;
    let gone = false;
    call('care', JSON.parse(asks)).then((list) => !gone && (got.value = { asks, list }), () => {});
    return () => {
      gone = true;
    };
  }, [asks]);
  if (kinds.length === 0) return null;
  const list = got.value?.asks === asks ? got.value.list : undefined;
  return html`<section class="carry" aria-labelledby="carry" data-carry=${list ? kinds.length : 'none'}>
    <h2 id="carry">${t.title}</h2>
    ${!list ? html`<p>${t.none}</p>` : html`<ul class="plain">${list.map((one) => html`<li key=${one.taxon} data-kind=${one.taxon}><strong>${called(one.taxon)}</strong>: ${words(one.carry)}. <span class="soft">${t.from(one.carry.from)}</span></li>`)}</ul>`}
    <p>${climate === 'tropical' ? t.heat : t.shade}</p>
    ${!climate && html`<p class="soft">${t.unsaid}</p>`}
  </section>`;
}

/** @param {Care['carry']} of */
const words = ({ how, lowC, highC, withinC, hours }) => (withinC ? t.tropical(how, withinC, hours) : t.temperate(how, lowC ?? 0, highC ?? 0, hours));
