// Typing in what was ticked with a pencil, a day at a time, with its own days and observers.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { now as shownNow } from '../parts/now.js';
import { clock, dayName, localDay } from '../parts/when.js';
import { Page } from '../house/page.js';
import { write } from '../../data/book.js';
import { dropDraft, keepDraft, keptDraft } from '../../data/drafts.js';
import { isChild, people } from './check-who.js';
import { events, may, nameOf, read, zone } from './picture-state.js';
import { TickDay } from './ticks-day.js';
import { onTheShelf } from './ticks-systems.js';
import { checksOn, emptyDay, ticksOf, weekOf } from './ticks-week.js';
import { paper } from '../../text/en-tank-paper.js';

/** @typedef {import('./ticks-week.js').Day} Day */
/** @typedef {{ref: string, name: string, onFile: string, signed: boolean}} Row */

/** @param {{week: string, named: boolean}} props the week's Monday; whether the path named a day */
export function EnterPage({ week, named }) {
  const t = paper.enter;
  const today = localDay(shownNow.value, zone.value);
  const says = !named ? t.badWeek : week > today ? t.futureWeek : !may.value.note ? paper.notYours : '';
  return html`<${Page} title=${t.title} to=${`/tanks/ticks/${week}`} back=${paper.ticks.title}>
    ${says ? html`<p>${says}</p>` : !read.value ? html`<p role="status">…</p>` : html`<p>${t.why} ${paper.ticks.how}.</p><${Week} week=${week} today=${today} />`}
  <//>`;
}

/**
 * What is on file of a day: who looked at a system, and when.
 * @param {string} day
 * @returns {Row[]}
 */
function rowsOf(day) {
  const t = paper.enter;
  return onTheShelf().map(({ ref, name, of }) => {
    const [found] = checksOn(events.value, of, day, zone.value);
    const signed = events.value.some(({ sign }) => sign && of.includes(sign.of) && localDay(Date.parse(sign.at), zone.value) === day);
    return { ref, name, signed, onFile: found ? t.onFile(clock(found.at, zone.value), nameOf(`member/${found.by}`), found.signs.length > 0) : signed ? t.signOnFile : '' };
  });
}

/** @param {{week: string, today: string}} props */
function Week({ week, today }) {
  const t = paper.enter;
  const key = `ticks:${week}`;
  const days = weekOf(week);
  const typed = useSignal(/** @type {Record<string, Day>} */ ({}));
  const open = (/** @type {string} */ day) => day <= today && rowsOf(day).some(({ onFile }) => !onFile);
  const at = useSignal(days.find(open) ?? days[0]);
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const says = useSignal('');
  const last = useSignal({ who: '' });
  useEffect(() => void keptDraft(key).then((kept) => kept && Object.keys(typed.peek()).length === 0 && (typed.value = kept)), []);

  const day = at.value;
  const rows = rowsOf(day);
  // What stands now, and not what stood when the page was drawn: two touches may come in between.
  const now = () => typed.peek()[day] ?? { ...emptyDay(), who: last.peek().who };
  const is = typed.value[day] ?? { ...emptyDay(), who: last.value.who };
  /** @param {(was: Day) => Partial<Day>} change */
  const set = (change) => {
    typed.value = { ...typed.peek(), [day]: { ...now(), ...change(now()) } };
    keepDraft(key, typed.peek());
  };
  const turn = (/** @type {string} */ to) => {
    at.value = to;
    wrong.value = {};
    requestAnimationFrame(() => document.getElementById('tick-day')?.focus());
  };
  /** @param {Event} event */
  const keep = async (event) => {
    event.preventDefault();
    const asked = rows.filter(({ onFile }) => !onFile).map(({ ref }) => ref);
    const { events: made, wrong: bad } = await ticksOf(now(), day, zone.value, Date.now(), asked);
    wrong.value = Object.fromEntries(Object.entries(bad).map(([part, why]) => [part, t.wrong[why]]));
    if (made.length === 0) {
      says.value = '';
      announce(Object.values(wrong.value).join(' '));
      return void requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector('.tick-form [aria-invalid="true"]'))?.focus());
    }
    for (const { id, fields } of made) if (!(await write('event', id, fields))) return void (says.value = paper.unkept);
    last.value = { who: now().who };
    const { [day]: _, ...rest } = typed.peek();
    typed.value = rest;
    await (Object.keys(rest).length > 0 ? keepDraft(key, rest) : dropDraft(key));
    const next = days.slice(days.indexOf(day) + 1).find(open) ?? days.find(open);
    says.value = [t.saved(made.length, dayName(day, today)), made.some(({ fields }) => fields.sign) && t.signs, !next && t.done].filter(Boolean).join(' ');
    announce(says.value);
    if (next) turn(next);
  };
  if (people.value.length === 0) return html`<p>${isChild.value ? t.childOnly : t.nobodyYet}</p>${!isChild.value && html`<${Link} class="button" to="/house/members">${t.toMembers}<//>`}`;
  return html`
    <nav class="tick-days" aria-label=${t.days}>${days.map((one) => {
      const state = one > today ? 'future' : open(one) ? 'open' : 'kept';
      return html`<button type="button" key=${one} data-day=${one} data-state=${state} aria-pressed=${one === day} aria-disabled=${state === 'future'}
        onClick=${() => (state === 'future' ? announce(t.to(dayName(one, today))) : turn(one))}><span><strong>${dayName(one, today).slice(0, 3)}</strong> ${dayName(one, today).slice(4)}</span><span class="soft">${t.state[state]}</span></button>`;
    })}</nav>
    ${isChild.value && html`<p class="soft">${t.childOnly}</p>`}
    <p class="tick-says" role="status" data-says>${says.value}</p>
    <${TickDay} key=${day} day=${day} title=${dayName(day, today)} rows=${rows} people=${people.value} is=${is} set=${set} wrong=${wrong.value} keep=${keep} />`;
}
