// A specimen by hand: what came from elsewhere than an outing's finds, and what is corrected.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Field } from '../parts/field.js';
import { UNSURE, called, recallKinds, taxonNamed } from '../parts/kinds.js';
import { write } from '../../data/book.js';
import { uuidv7 } from '../../data/ids.js';
import { go } from '../route.js';
import { Confirm } from '../house/confirm.js';
import { Page } from '../house/page.js';
import { AmountPick, Choices, GroupPick } from '../shore/find-parts.js';
import { amountOf } from '../shore/amount.js';
import { photoFields } from '../shore/find.js';
import { KindPick } from '../shore/kind-pick.js';
import { PhotoPick } from '../shore/photo-pick.js';
import { may, nameOf, systemOf, tanks, writeEvent } from './picture-state.js';
import { observer } from './check-who.js';
import { isWeed } from './settle-in.js';
import { TankPick } from './specimen-act.js';
import { tanks as text } from '../../text/en-tanks.js';
import { text as all } from '../../text/en.js';

/** As internal/book has them, in characters. */
const MOST = { name: 80, source: 300, note: 2000 };

export function SpecimenNew() {
  const t = text.specimenForm;
  useEffect(() => void recallKinds(), []);
  const kind = useSignal(/** @type {import('../shore/recent.js').Kind | undefined} */ (undefined));
  const choose = (/** @type {import('../shore/recent.js').Kind} */ one) => {
    kind.value = { taxon: one.taxon, group: one.group || taxonNamed(one.taxon)?.group || UNSURE };
    scrollTo(0, 0);
    requestAnimationFrame(() => document.getElementById('chosen-kind')?.focus());
  };
  return html`<${Page} title=${t.new} to="/tanks" back=${text.back}>
    ${!may.value.decide ? html`<p>${text.due.child}</p>` : !kind.value ? html`<p>${t.newWhat}</p><div class="tank-kinds"><${KindPick} recent=${[]} choose=${choose} /></div>`
      : html`<div class="chosen-kind"><h2 id="chosen-kind" tabindex="-1">${called(kind.value.taxon)}</h2><button type="button" class="quiet" data-do="change" onClick=${() => (kind.value = undefined)}>${all.log.change}</button></div>
        <${Form} key=${kind.value.taxon} kind=${kind.value} />`}
  <//>`;
}

/** @param {{one: import('./specimen-page.js').Specimen}} props */
export function SpecimenEdit({ one }) {
  const t = text.specimenForm;
  const asking = useSignal(false);
  const remove = async () => {
    const kept = await write('specimen', one.id, { deleted: true });
    announce(kept ? t.removed : text.unkept);
    go('/tanks');
  };
  const photos = () => Object.keys(one).filter((field) => field.startsWith('photos/') && one[field] === true).map((field) => field.slice('photos/'.length));
  const setPhotos = (/** @type {string[]} */ list) => write('specimen', one.id, Object.fromEntries([...photos().filter((sha) => !list.includes(sha)).map((sha) => [`photos/${sha}`, null]), ...Object.entries(photoFields(list))]));
  return html`<${PhotoPick} photos=${photos} before=${() => Promise.resolve()} set=${setPhotos} back=${() => {}} />
    <${Form} one=${one} kind=${one} />
    ${asking.value ? html`<${Confirm} asks=${t.removeAsk(nameOf(`specimen/${one.id}`))} says=${t.removeWhat} does=${t.removeDo} act=${remove} leave=${() => (asking.value = false)} />`
      : html`<button type="button" class="remove" data-do="remove" onClick=${() => (asking.value = true)}>${t.remove}</button>`}`;
}

/** @param {{one?: import('./specimen-page.js').Specimen, kind: import('../shore/recent.js').Kind}} props */
function Form({ one, kind }) {
  const t = text.specimenForm;
  const group = useSignal(kind.group);
  const amount = useSignal({ value: String(one?.amount?.value ?? 1), unit: one?.amount?.unit ?? 'count' });
  const base = useSignal(String(one?.base ?? ''));
  const name = useSignal(String(one?.name ?? ''));
  const source = useSignal(String(one?.source ?? ''));
  const words = useSignal(String(one?.note ?? ''));
  const origin = useSignal(String(one?.origin ?? ''));
  const tank = useSignal('');
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const says = useSignal('');
  const found = Boolean(one?.find || one?.lot);
  const save = async (/** @type {Event} */ event) => {
    event.preventDefault();
    const value = amountOf(amount.value.value, amount.value.unit);
    /** @type {Record<string, string>} */
    const list = {};
    if (value === undefined) list.amount = all.log.needAmount;
    for (const [field, is, most] of /** @type {[string, string, number][]} */ ([['name', name.value, MOST.name], ['source', source.value, MOST.source], ['note', words.value, MOST.note]])) {
      if (Array.from(is.trim()).length > most) list[field] = all.trip.tooLong(most);
    }
    if (!found && !source.value.trim()) list.source = t.needSource;
    if (!one && !tank.value) list.tank = text.move.need;
    wrong.value = list;
    if (Object.keys(list).length > 0) {
      announce(Object.values(list).join(' '));
      return void requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector('form [aria-invalid="true"]'))?.focus());
    }
    const id = one?.id ?? uuidv7();
    let kept = await write('specimen', id, {
      taxon: kind.taxon, group: group.value, amount: { value, unit: amount.value.unit }, name: name.value.trim(), note: words.value.trim(),
      ...(isWeed(group.value) ? { base: base.value || null } : {}), ...(found ? {} : { source: source.value.trim() }), origin: origin.value || null,
    });
    if (!one) kept = (await writeEvent('arrived', { of: `specimen/${id}`, by: observer.peek(), tank: tank.value })).kept && kept;
    if (!kept) return void (says.value = text.unkept);
    announce(t.saved);
    go(`/tanks/specimen/${id}`);
  };
  const set = (/** @type {any} */ change) => (amount.value = { ...amount.value, ...change });
  const there = tank.value ? systemOf(`tank/${tank.value}`)?.state?.residents.length ?? 0 : 0;
  return html`<form onSubmit=${save} novalidate data-form="specimen">
    ${!taxonNamed(kind.taxon) && html`<${GroupPick} of=${{ group: group.value }} set=${(/** @type {any} */ change) => (group.value = change.group)} />`}
    <${AmountPick} of=${amount.value} set=${set} wrong=${wrong.value.amount} />
    ${isWeed(group.value) && html`<div class="field"><label for="base">${text.settleIn.base}</label><select id="base" onChange=${(/** @type {any} */ e) => (base.value = e.target.value)}>
      <option value="" selected=${!base.value}>${text.settleIn.bases.unsaid}</option>
      ${/** @type {const} */ (['cut', 'holdfast', 'stone']).map((is) => html`<option key=${is} value=${is} selected=${base.value === is}>${text.settleIn.bases[is]}</option>`)}</select></div>`}
    <${Field} id="name" label=${t.name} hint=${t.nameHint} value=${name} mode="text" wrong=${wrong.value.name} />
    <${Choices} name="origin" legend=${t.origin} is=${origin.value} choose=${(/** @type {string} */ is) => (origin.value = is)} options=${Object.entries(t.origins)} />
    ${!found && html`<${Field} id="source" label=${t.source} hint=${t.sourceHint} value=${source} mode="text" wrong=${wrong.value.source} />`}
    ${!one && html`<${TankPick} id="to" label=${text.settleIn.where} list=${tanks.value.filter(({ use }) => use !== 'display')} value=${tank} none=${text.move.none} wrong=${wrong.value.tank} />
      ${there > 0 && html`<p class="heed" data-restarts>${text.settleIn.restarts(there)}</p>`}<p class="soft">${text.settleIn.noDisplay}</p>`}
    <${Field} id="note" label=${t.note} value=${words} mode="text" lines="3" wrong=${wrong.value.note} />
    <p class="wrong" role="alert">${says.value}</p>
    <button type="submit" class="main" data-do="save">${t.save}</button>
  </form>`;
}
