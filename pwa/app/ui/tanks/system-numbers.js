// How long each handling group waits: the program's number with its source, and the household's
// own beside it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { groupName, recallKinds } from '../parts/kinds.js';
import { householdFields, setHousehold } from '../../data/household.js';
import { Page } from '../house/page.js';
import { handling, recallSigns, sourceOf } from './check-signs.js';
import { may, read } from './picture-state.js';
import { tanks as text } from '../../text/en-tanks.js';

/** As internal/book has it, in days. */
const MOST_DAYS = 365;

export function NumbersPage() {
  const t = text.numbers;
  useEffect(() => {
    recallKinds();
    recallSigns();
  }, []);
  const groups = Object.entries(handling.value?.groups ?? {});
  return html`<${Page} title=${t.title} to="/tanks" back=${text.back}><p>${t.what}</p>
    ${groups.length === 0 || !read.value ? html`<p class="soft" role="status">${t.coming}</p>` : html`<${Form} groups=${groups} />`}
    <p class="soft">${t.also}</p><//>`;
}

/** @param {{groups: [string, any][]}} props by id */
function Form({ groups }) {
  const t = text.numbers;
  const fields = householdFields.peek();
  const typed = useSignal(/** @type {Record<string, string>} */ (Object.fromEntries(groups.map(([id]) => [id, fields[`handling/${id}`]?.days ? String(fields[`handling/${id}`].days) : '']))));
  // What stood there at first: another phone may have set the others since.
  const was = useSignal(typed.peek());
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const says = useSignal('');
  const daysOf = (/** @type {string} */ words) => (/^\d{1,3}$/.test(words.trim()) && Number(words) >= 1 && Number(words) <= MOST_DAYS ? Number(words) : undefined);
  const save = async (/** @type {Event} */ event) => {
    event.preventDefault();
    wrong.value = Object.fromEntries(groups.filter(([id]) => typed.value[id].trim() && daysOf(typed.value[id]) === undefined).map(([id]) => [id, t.need]));
    says.value = '';
    if (Object.keys(wrong.value).length > 0) {
      announce(t.need);
      return void requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector('form [aria-invalid="true"]'))?.focus());
    }
    /** @type {Record<string, any>} */
    const change = {};
    for (const [id] of groups) {
      const had = fields[`handling/${id}`];
      const days = daysOf(typed.value[id]) ?? null;
      if (typed.value[id] !== was.value[id] && days !== (had?.days ?? null)) change[`handling/${id}`] = days === null && !had?.salinityPerHour && !had?.cPerHour ? null : { ...had, days };
    }
    const kept = await setHousehold(change);
    if (kept) was.value = typed.value;
    says.value = kept ? t.saved : text.unkept;
    announce(says.value);
  };
  const keeper = may.value.overrule;
  return html`<form onSubmit=${save} novalidate class="numbers-by-group">
    ${groups.map(([id, { days }]) => {
      const own = daysOf(typed.value[id]);
      return html`<div class="field" key=${id} data-group=${id}><label for=${`days-${id}`}>${groupName(id) || id}</label>
        <p id=${`days-${id}-ours`}>${t.ours(days.is, sourceOf(days.from))}</p>
        ${keeper ? html`<span class="soft" aria-hidden="true">${t.yours}</span><input id=${`days-${id}`} type="text" inputmode="numeric" autocomplete="off" aria-label=${t.own(groupName(id) || id)} value=${typed.value[id]} onInput=${(/** @type {any} */ e) => (typed.value = { ...typed.value, [id]: e.target.value })}
          aria-invalid=${Boolean(wrong.value[id])} aria-describedby=${`days-${id}-ours days-${id}-wrong`} />
          ${own !== undefined && own < days.is && html`<p class="overdue" data-less>${t.less}</p>`}
          <p id=${`days-${id}-wrong`} class="wrong">${wrong.value[id]}</p>` : typed.value[id] && html`<p>${typed.value[id]}</p>`}</div>`;
    })}
    ${keeper ? html`<p class="soft" data-says>${says.value}</p><button type="submit" class="main" data-do="save">${t.save}</button>` : html`<p class="soft">${t.reads}</p>`}
  </form>`;
}
