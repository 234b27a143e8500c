// The plan of an outing: where, which window, who, with what, who ashore knows.

import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { now } from '../parts/now.js';
import { clock, dayAndClock } from '../parts/when.js';
import { go, parts } from '../route.js';
import { records } from '../../data/book.js';
import { shore as chosenShore, shores } from '../plan/shore-state.js';
import { asked } from '../plan/plan-state.js';
import { KitForm } from './kit-form.js';
import { mayPlan, useBook } from './may-plan.js';
import { openTrip } from './outing-draft.js';
import { changes, freshTrip, read, tripOf } from './outing-fields.js';
import { outingOf } from './outing.js';
import { members, outings, plan, set as setFields } from './outing-state.js';
import { clockOf, PACK_UP_MIN, proposedDueBack } from './outing-times.js';
import { isDay, useWindows } from './outing-windows.js';
import { Panel } from './panel.js';
import { PartyForm } from './party-form.js';
import { text } from '../../text/en.js';

/** @typedef {import('../../data/shore-record.js').Shore} Shore */

const PURPOSES = /** @type {const} */ (['home', 'teaching', 'trade']);

/** /shore/outing/new, with the shore's id, the day and the window's beginning behind it where Plan leads here; /shore/outing/ID/change. */
export function OutingForm() {
  const t = text.trip;
  const [, , of, ...wanted] = parts.value;
  const record = records('outing').value.find(({ id, deleted }) => id === of && !deleted);
  const title = of === 'new' ? t.title : text.go.change;
  const known = useBook();
  const page = (/** @type {any} */ children) => html`<${Panel} name="trip" title=${title}>${children}<//>`;
  if (!known) return page(null);
  if (!mayPlan()) return page(html`<p>${t.notYours}</p>`);
  if (of !== 'new' && !record) return page(html`<p>${t.gone}</p>`);
  if (shores.value.length === 0) return page(html`<p>${t.noShore}</p><${Link} class="button main" to="/plan">${t.toPlan}<//>`);
  return page(html`${!record && html`<${Coming} />`}<${Form} key=${of} record=${record} wanted=${record ? [] : wanted} />`);
}

/** What is planned already, so that it is found again before its day. */
function Coming() {
  const list = outings.value.filter(({ startedMs, planned }) => startedMs === null && planned && Date.parse(planned.to) > now.value).reverse();
  if (list.length === 0) return null;
  return html`<nav class="coming" aria-label=${text.trip.coming}><h2>${text.trip.coming}</h2>${list.map(({ id, shore, planned }) => {
    const at = shores.value.find((one) => one.id === shore);
    return html`<${Link} class="button" to=${`/shore/outing/${id}`}>${at?.name} · ${dayAndClock(planned?.from ?? '', at?.zone ?? 'UTC')}<//>`;
  })}</nav>`;
}

/** @param {{record?: import('../../data/book.js').Rec, wanted: string[]}} props wanted: the shore, the day, the beginning of the window */
function Form({ record, wanted }) {
  const t = text.trip;
  const draft = useMemo(() => begin(record, wanted), []);
  const { trip, set, found } = draft;
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const pick = useSignal(wanted[2] ?? '');
  useEffect(() => () => void draft.end(false), [draft]);

  const drafted = trip.value;
  const at = /** @type {Shore} */ (shores.value.find(({ id }) => id === drafted.shore) ?? shores.value[0]);
  const doubt = at.release !== CATALOGUE_RELEASE;
  const windows = useWindows(doubt ? undefined : at, drafted.on).value;
  const time = (/** @type {string} */ instant) => clock(instant, at.zone);
  const choose = (/** @type {import('./outing-windows.js').Found} */ { from, to, startBack, offBy }) => set({ planned: { from, to, startBack, offBy }, ...(from === trip.peek().planned?.from ? {} : { due: '' }) });
  useEffect(() => {
    const hit = pick.value && windows?.windows?.find(({ from }) => from === pick.value);
    if (!hit) return;
    pick.value = '';
    draft.read.then(() => choose(hit));
  }, [windows]);

  const proposedMs = drafted.planned?.offBy ? proposedDueBack(drafted.planned.offBy, at.travel) : undefined;
  const field = (/** @type {'who' | 'call' | 'note'} */ id, /** @type {string} */ label, /** @type {string} */ hint = '') => html`<div class="field">
    <label for=${id}>${label}</label>${hint && html`<p id=${id + '-hint'} class="soft">${hint}</p>`}
    <input id=${id} type="text" autocomplete="off" value=${drafted[id]} onInput=${(/** @type {any} */ e) => set({ [id]: e.target.value })}
      aria-invalid=${Boolean(wrong.value[id])} aria-describedby=${`${hint ? id + '-hint ' : ''}${id}-wrong`} />
    <p id=${id + '-wrong'} class="wrong">${wrong.value[id]}</p></div>`;

  /** @param {Event} event */
  const save = async (event) => {
    event.preventDefault();
    const { fields, wrong: list } = read(trip.peek(), at.zone, proposedMs);
    wrong.value = list;
    if (!fields) {
      announce(t.wrong);
      return void requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector('form [aria-invalid="true"]'))?.focus());
    }
    const { id, kept } = record ? { id: record.id, kept: await setFields(record.id, changes(fields, record.fields)) } : await plan(without(fields));
    await draft.end(true);
    if (!kept) announce(t.unkept);
    go(`/shore/outing/${id}`);
  };

  const planned = drafted.planned;
  const listed = windows?.windows?.some(({ from, offBy }) => from === planned?.from && offBy === planned?.offBy);
  return html`<form class="trip" onSubmit=${save} novalidate>
    ${found.value && html`<p class="soft" data-draft>${t.draft}</p>`}
    <div class="field"><label for="trip-shore">${t.shore}</label>
      <select id="trip-shore" onChange=${(/** @type {any} */ e) => set({ shore: e.target.value, planned: null })}>
        ${shores.value.map(({ id, name }) => html`<option value=${id} selected=${id === at.id}>${name}</option>`)}
      </select></div>
    <div class="field"><label for="trip-on">${t.on}</label>
      <input id="trip-on" type="date" value=${drafted.on} onChange=${(/** @type {any} */ e) => set({ on: e.target.value, planned: null })} aria-describedby="trip-on-wrong" />
      <p id="trip-on-wrong" class="wrong">${isDay(drafted.on) ? '' : t.badDay}</p></div>
    <fieldset class="windows-of" aria-describedby="light-note">
      <legend><h2>${t.window}</h2></legend>
      <p id="light-note" class="soft">${t.lights} ${text.ask.lights[asked.value.light]}.</p>
      ${doubt ? html`<p class="heed">${t.doubt}</p>`
        : !isDay(drafted.on) ? null : !windows ? html`<p>${t.windowsComing}</p>` : windows.failed ? html`<p class="heed">${t.windowsFailed}</p>`
        : windows.windows?.length === 0 && html`<p>${t.noWindows(windows.none ?? '')}</p>`}
      ${windows?.windows?.map((w) => html`<label class="check window-pick" data-window=${w.from}>
        <input type="radio" name="window" checked=${w.from === planned?.from && w.offBy === planned?.offBy} onChange=${() => choose(w)} />
        <span><strong>${t.usable(time(w.from), time(w.to))}</strong> <span class="soft">${t.limits(time(w.startBack), time(w.offBy))}</span></span></label>`)}
      ${planned && !listed && html`<label class="check window-pick"><input type="radio" name="window" checked />
        <span><strong>${t.keptWindow}: ${t.usable(time(planned.from), time(planned.to))}</strong>${planned.startBack && planned.offBy && html` <span class="soft">${t.limits(time(planned.startBack), time(planned.offBy))}</span>`}</span></label>`}
      <label class="check window-pick"><input type="radio" name="window" value="none" checked=${!planned} onChange=${() => set({ planned: null })} /> ${t.noWindow}</label>
    </fieldset>
    <div class="field"><label for="purpose">${t.purpose}</label>
      <select id="purpose" onChange=${(/** @type {any} */ e) => set({ purpose: e.target.value })}>
        ${PURPOSES.map((is) => html`<option value=${is} selected=${is === drafted.purpose}>${t.purposes[is]}</option>`)}
      </select></div>
    <${PartyForm} party=${drafted.party} set=${(/** @type {any} */ party) => set({ party })} wrong=${wrong.value} />
    <fieldset><legend><h2>${t.ashore}</h2></legend>
      ${field('who', t.whoName, t.ashoreHint)}
      ${field('call', t.call, t.callHint)}
      <div class="field"><label for="due">${t.dueBack}</label>
        <p id="due-hint" class="soft">${proposedMs === undefined ? t.dueHintPlain : t.dueHint(at.travel, PACK_UP_MIN)}</p>
        <input id="due" type="text" inputmode="text" autocomplete="off" value=${drafted.due} placeholder=${proposedMs === undefined ? '' : time(new Date(proposedMs).toISOString())}
          onInput=${(/** @type {any} */ e) => set({ due: e.target.value })} onBlur=${() => clockOf(drafted.due) && set({ due: clockOf(drafted.due) })}
          aria-invalid=${Boolean(wrong.value.due)} aria-describedby="due-hint due-wrong" />
        <p id="due-wrong" class="wrong">${wrong.value.due}</p></div>
    </fieldset>
    <${KitForm} name="gear" title=${t.kit} hint=${t.kitHint} another=${t.addGear} list=${drafted.gear} set=${(/** @type {any} */ gear) => set({ gear })} />
    <${KitForm} name="containers" title=${t.containers} hint=${t.containersHint} another=${t.addBox} list=${drafted.containers}
      set=${(/** @type {any[]} */ list) => set({ containers: list.map((one) => ({ litres: null, ...one })) })} />
    ${field('note', t.note)}
    <p class="wrong" role="alert">${Object.keys(wrong.value).length > 0 && t.wrong}</p>
    <div class="actions">
      <${Link} class="button" to=${record ? `/shore/outing/${record.id}` : '/shore'} onClickCapture=${() => draft.end(true)}>${t.cancel}<//>
      <button type="submit" class="main" data-do="keep">${t.save}</button>
    </div>
  </form>`;
}

/**
 * A record needs no empty fields.
 * @param {Record<string, any>} fields
 */
const without = (fields) => Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== null && value !== ''));

/** @param {import('../../data/book.js').Rec | undefined} record @param {string[]} wanted */
function begin(record, [shoreId, on]) {
  if (record) {
    const outing = outingOf(record);
    const zone = shores.peek().find(({ id }) => id === outing.shore)?.zone ?? 'UTC';
    return openTrip(`outing:${record.id}`, tripOf(outing, zone, record.fields.note ?? ''), () => true);
  }
  const at = shores.peek().find(({ id }) => id === shoreId) ?? /** @type {Shore} */ (chosenShore.peek());
  const start = freshTrip(at, outings.peek()[0], members.peek());
  const draft = openTrip('outing:new', start, (kept) => shores.peek().some(({ id }) => id === kept.shore));
  // What Plan leads here with counts more than what was typed before.
  if (shoreId && on) draft.read.then(() => (draft.trip.peek().on === on && draft.trip.peek().shore === at.id) || draft.set({ shore: at.id, on, planned: null }));
  return draft;
}
