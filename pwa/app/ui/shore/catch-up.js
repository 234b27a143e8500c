// At the car: what was pencilled on the slate, row by row.

import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { clock, localDay } from '../parts/when.js';
import { ready, records, write } from '../../data/book.js';
import { dropDraft, keepDraft, keptDraft } from '../../data/drafts.js';
import { me } from '../../data/door.js';
import { uuidv7 } from '../../data/ids.js';
import { outingPanel } from './go.js';
import { findOf, UNSURE } from './catch-up-row.js';
import { text } from '../../text/en.js';

/** @typedef {import('./outing.js').Outing} Outing */
/** @typedef {import('../../data/shore-record.js').Shore} Shore */

export const CatchUp = () => outingPanel('catch-up', text.catchUp.title, (outing, shore) => (me.value?.device.role === 'guest' ? html`<p>${text.trip.notYours}</p>` : html`
  <p>${text.catchUp.why}</p>
  <${Row} key=${outing.id} outing=${outing} shore=${shore} />
  <${Entered} outing=${outing} zone=${shore.zone} />
  <${Link} class="button" to=${`/shore/outings/${outing.id}`} data-do="done">${text.catchUp.done}<//>`));

/** @typedef {import('./catch-up-row.js').Pencilled} Pencilled */

/** @param {{outing: Outing, shore: Shore}} props */
function Row({ outing, shore }) {
  const t = text.catchUp;
  const key = `catch-up:${outing.id}`;
  const empty = { time: '', kind: '', amount: '', who: '', fate: /** @type {'seen' | 'taken'} */ ('seen') };
  const row = useSignal(/** @type {Pencilled} */ (empty));
  const id = useRef(uuidv7()); // of the row's find: a second try makes no second one
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  useEffect(() => void keptDraft(key).then((kept) => kept && row.peek() === empty && (row.value = kept)), []);
  /** @param {Partial<Pencilled>} change */
  const set = (change) => {
    row.value = { ...row.peek(), ...change };
    keepDraft(key, row.peek());
  };
  const day = localDay(outing.startedMs ?? (outing.planned ? Date.parse(outing.planned.from) : Date.now()), shore.zone);
  // A find is by a member of the book; a guest's stands without a name.
  const people = outing.party.filter(({ id }) => records('member').value.some((one) => one.id === id));
  const kinds = [...new Set(records('find').value.map(({ fields }) => String(fields.taxon ?? '')).filter((taxon) => taxon && taxon !== UNSURE))].slice(-40);

  /** @param {Event} event */
  const keep = async (event) => {
    event.preventDefault();
    const { fields, wrong: list } = findOf(row.peek(), outing, day, shore.zone, Date.now());
    wrong.value = list;
    if (!fields) {
      announce(Object.values(list).join(' '));
      return void requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector('form [aria-invalid="true"]'))?.focus());
    }
    const kept = await write('find', id.current, fields);
    announce(kept ? t.kept(fields.taxon === UNSURE ? t.unsure : fields.taxon) : text.trip.unkept);
    if (!kept) return void (wrong.value = { kind: text.trip.unkept }); // the row stays as it is
    id.current = uuidv7();
    // The next row is often the same minute and person.
    row.value = { ...empty, time: row.peek().time, who: row.peek().who };
    await dropDraft(key);
    document.getElementById('kind')?.focus();
  };
  const now = row.value;
  const field = (/** @type {'time' | 'kind' | 'amount'} */ id, /** @type {string} */ label, /** @type {string} */ hint, /** @type {string} */ mode) => html`<div class="field">
    <label for=${id}>${label}</label>${hint && html`<p id=${id + '-hint'} class="soft">${hint}</p>`}
    <input id=${id} type="text" inputmode=${mode} autocomplete="off" list=${id === 'kind' ? 'kinds' : undefined} value=${now[id]} onInput=${(/** @type {any} */ e) => set({ [id]: e.target.value })}
      aria-invalid=${Boolean(wrong.value[id])} aria-describedby=${`${hint ? id + '-hint ' : ''}${id}-wrong`} />
    <p id=${id + '-wrong'} class="wrong">${wrong.value[id]}</p></div>`;
  return html`<form onSubmit=${keep} novalidate>
    <div class="pair">${field('time', t.time, '', 'text')}${field('amount', t.amount, '', 'numeric')}</div>
    ${field('kind', t.kind, t.kindHint, 'text')}
    <datalist id="kinds">${kinds.map((kind) => html`<option value=${kind} />`)}</datalist>
    <div class="field"><label for="who">${t.who}</label>
      <select id="who" onChange=${(/** @type {any} */ e) => set({ who: e.target.value })}>
        <option value="" selected=${!now.who}>${t.nobody}</option>
        ${people.map(({ id, name }) => html`<option value=${id} selected=${id === now.who}>${name}</option>`)}
      </select></div>
    <fieldset class="field fate"><legend>${t.fate}</legend><div class="two">
      ${/** @type {const} */ (['seen', 'taken']).map((is) => html`<label class="check"><input type="radio" name="fate" value=${is} checked=${now.fate === is} onChange=${() => set({ fate: is })} /> ${t[is]}</label>`)}
    </div></fieldset>
    ${now.fate === 'taken' && !now.kind.trim() && html`<p class="heed">${t.unsureTaken}</p>`}
    <button type="submit" class="main" data-do="keep">${t.add}</button>
  </form>`;
}

/** @param {{outing: Outing, zone: string}} props */
function Entered({ outing, zone }) {
  const t = text.catchUp;
  useEffect(() => void ready('find'), []);
  const list = records('find').value.filter(({ fields, deleted }) => !deleted && fields.outing === outing.id && fields.noted === 'slate')
    .sort((a, b) => (a.fields.at < b.fields.at ? -1 : 1));
  const names = new Map(outing.party.map(({ id, name }) => [id, name]));
  if (list.length === 0) return null;
  return html`<section aria-labelledby="entered"><h2 id="entered">${t.entered(list.length)}</h2>
    <ul class="entered">${list.map(({ id, fields }) => {
      const what = fields.taxon === UNSURE ? t.unsure : fields.taxon;
      return html`<li key=${id} data-find=${id}><span>${clock(fields.at, zone)} <strong>${what}</strong> ${fields.amount && `× ${fields.amount.value}`}
        <span class="soft"> ${[names.get(fields.by), fields.fate === 'taken' ? t.taken : t.seen].filter(Boolean).join(', ')}</span></span>
        <button type="button" class="quiet" aria-label=${`${t.undo} ${what}`} onClick=${() => write('find', id, { deleted: true })}>${t.undo}</button></li>`;
    })}</ul></section>`;
}
