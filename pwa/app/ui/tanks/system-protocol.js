// The household's own protocol for a system, beside its name: how many quiet days, how many
// dips, what comes round. Without one, the resident that needs longest says.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Field } from '../parts/field.js';
import { write } from '../../data/book.js';
import { may, systemOf } from './picture-state.js';
import { RHYTHMS } from './tank-typed.js';
import { tanks as text } from '../../text/en-tanks.js';
import { text as all } from '../../text/en.js';

/** As internal/book has them. */
const MOST = { name: 80, quietDays: 365, dips: 20 };

/** @param {string} typed @param {number} least @param {number} most */
const whole = (typed, least, most) => (/^\d{1,3}$/.test(typed.trim()) && Number(typed) >= least && Number(typed) <= most ? Number(typed) : undefined);

/** @param {{system: NonNullable<ReturnType<typeof systemOf>>}} props */
export function Protocol({ system: { id, fields } }) {
  const t = text.protocol;
  const name = useSignal(String(fields.name ?? ''));
  const days = useSignal(fields.protocol ? String(fields.protocol.quietDays) : '');
  const dips = useSignal(fields.protocol ? String(fields.protocol.dips) : '');
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const says = useSignal('');
  const every = useSignal(/** @type {Record<string, string>} */ (Object.fromEntries(RHYTHMS.map((of) => [of, fields.every?.[of] ? String(fields.every[of]) : '']))));
  // What stood there at first: only what was typed anew is written, for another phone may have set the rest since.
  const was = useSignal({ name: name.peek(), days: days.peek(), dips: dips.peek(), every: every.peek() });
  if (!may.value.decide) return null;
  const save = async (/** @type {Event} */ event) => {
    event.preventDefault();
    /** @type {Record<string, string>} */
    const list = {};
    const called = name.value.trim();
    if (!called) list.name = t.needName;
    else if (Array.from(called).length > MOST.name) list.name = all.trip.tooLong(MOST.name);
    const own = days.value.trim() || dips.value.trim();
    const n = whole(days.value, 1, MOST.quietDays);
    const d = dips.value.trim() ? whole(dips.value, 0, MOST.dips) : 0;
    if (own && n === undefined) list.days = t.needDays;
    if (own && d === undefined) list.dips = t.needDips;
    /** @type {Record<string, number | null>} */
    const rhythm = {};
    for (const of of RHYTHMS) {
      const typed = every.value[of].trim();
      const is = typed ? whole(typed, 1, MOST.quietDays) : null;
      if (is === undefined) list[of] = t.needEvery;
      else rhythm[of] = is;
    }
    wrong.value = list;
    says.value = '';
    if (Object.keys(list).length > 0) {
      announce(Object.values(list).join(' '));
      return void requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector('.protocol [aria-invalid="true"]'))?.focus());
    }
    const old = was.value;
    const kept = await write('system', id, {
      ...(name.value !== old.name ? { name: called } : {}), ...(days.value !== old.days || dips.value !== old.dips ? { protocol: own ? { quietDays: n, dips: d } : null } : {}),
      ...(RHYTHMS.some((of) => every.value[of] !== old.every[of]) ? { every: Object.values(rhythm).some(Boolean) ? rhythm : null } : {}),
    });
    if (kept) was.value = { name: name.value, days: days.value, dips: dips.value, every: every.value };
    says.value = kept ? t.saved : text.unkept;
    announce(says.value);
  };
  return html`<details class="protocol"><summary>${t.title}</summary><form onSubmit=${save} novalidate>
    <p>${t.what}</p>
    <${Field} id="system-name" label=${t.name} value=${name} mode="text" wrong=${wrong.value.name} />
    <div class="pair"><${Field} id="quiet-days" label=${t.days} hint=${t.daysHint} value=${days} mode="numeric" wrong=${wrong.value.days} />
    <${Field} id="dips" label=${t.dips} hint=${t.dipsHint} value=${dips} mode="numeric" wrong=${wrong.value.dips} /></div>
    <fieldset class="rhythms"><legend>${t.every}</legend><p class="soft">${t.everyHint}</p>
      ${RHYTHMS.map((of) => html`<div class="field" key=${of}><label for=${of}>${t.rhythms[of]}</label>
        <input id=${of} type="text" inputmode="numeric" autocomplete="off" value=${every.value[of]} onInput=${(/** @type {any} */ e) => (every.value = { ...every.value, [of]: e.target.value })} aria-invalid=${Boolean(wrong.value[of])} aria-describedby=${of + '-wrong'} />
        <p id=${of + '-wrong'} class="wrong">${wrong.value[of]}</p></div>`)}</fieldset>
    <p class="soft" data-says>${says.value}</p>
    <button type="submit" data-do="protocol">${t.save}</button>
  </form></details>`;
}
