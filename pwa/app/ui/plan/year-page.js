// A whole year at a glance. Finger, mouse and keys move over its days; a day opens.

import { useSignal } from '@preact/signals';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { useWidth } from '../parts/width.js';
import { addDays, clock, dayName, duration, monthName } from '../parts/when.js';
import { waterHeight } from '../parts/units.js';
import { entitle, go } from '../route.js';
import { BeforeYouGo } from './before-you-go.js';
import { asked, today, year } from './plan-state.js';
import { FIRST_DAY, isYear, LAST_DAY } from './reckoned-days.js';
import { Status } from './status.js';
import { Views } from './views.js';
import { fullMinutes, yearDays, yearGrid } from './year-days.js';
import { Pointed, YearBars } from './year-grid.js';
import { YearSheet } from './year-sheet.js';
import { text } from '../../text/en.js';

/** @typedef {import('./shore-state.js').Shore} Shore */
/** @typedef {import('./year-days.js').YearDay} YearDay */

/** @param {{shore: Shore, of: string}} props of is from the path, and may be anything */
export function YearPage({ shore, of }) {
  const t = text.year;
  const title = isYear(of) ? t.title(of) : t.badYear;
  useEffect(() => {
    entitle(title);
    return () => entitle();
  }, [title]);
  if (!isYear(of)) return html`<h1>${t.badYear}</h1><${Views} now="year" />`;
  const shown = year.shown.value;
  const days = shown && yearDays(of, shown.answer.windows);
  return html`<div class="screen">
      <${Views} now="year" year=${of} />
      <div class="turn">
        <h1>${title}</h1>
        <${Neighbour} of=${Number(of) - 1} mark="‹" />
        <${Neighbour} of=${Number(of) + 1} mark="›" />
      </div>
      <${AnyYear} key=${of} of=${of} />
      <${Status} of=${year} zone=${shore.zone} found="" />
      ${days && html`<${Found} key=${of} shore=${shore} of=${of} days=${days} found=${shown.answer} kept=${Boolean(shown.keptAt)} />`}
      <${BeforeYouGo} />
    </div>
    ${days && html`<${YearSheet} shore=${shore} of=${of} days=${days} phases=${shown.answer.phases} />`}`;
}

/** @param {{of: number, mark: string}} props */
function Neighbour({ of, mark }) {
  if (!isYear(String(of))) return html`<span />`;
  return html`<${Link} class="button quiet" to=${`/plan/year/${of}`} data-do=${mark === '‹' ? 'before' : 'after'}>${mark === '‹' ? `‹ ${of}` : `${of} ›`}<//>`;
}

/** @param {{of: string}} props */
function AnyYear({ of }) {
  const t = text.year;
  const typed = useSignal(of);
  const bad = useSignal(false);
  /** @param {Event} event */
  const show = (event) => {
    event.preventDefault();
    bad.value = !isYear(typed.value.trim());
    if (!bad.value) go(`/plan/year/${typed.value.trim()}`);
  };
  return html`<form class="any-year" onSubmit=${show} novalidate>
    <label>${t.yearLabel} <input type="text" inputmode="numeric" name="year" size="5" autocomplete="off" value=${typed.value} aria-invalid=${bad.value} aria-describedby="any-year"
      onInput=${(/** @type {any} */ event) => (typed.value = event.target.value)} /></label>
    <button type="submit">${t.go}</button>
    <p id="any-year" class="wrong">${bad.value && t.badYear}</p>
  </form>`;
}

/** @param {{shore: Shore, of: string, days: YearDay[], found: import('./plan-state.js').Year, kept: boolean}} props */
function Found({ shore, of, days, found, kept }) {
  const t = text.year;
  const { light, least } = asked.value;
  const open = days.filter((day) => day.minutes > 0);
  const minutes = open.reduce((sum, day) => sum + day.minutes, 0);
  return html`<div class="year" data-year=${of} data-kept=${String(kept)} data-moons=${found.phases.length > 0}>
    <p>${open.length ? t.sum(open.length, duration(minutes)) : `${t.none} ${found.none?.text ?? ''}`} <span class="soft">${t.counts(text.ask.lights[light], duration(least))}</span></p>
    ${(of === FIRST_DAY.slice(0, 4) || of === LAST_DAY.slice(0, 4)) && html`<p class="soft">${t.edge}</p>`}
    <${Slide} days=${days} found=${found} shore=${shore} />
    <p class="soft">${t.full(duration(fullMinutes(days)))} ${t.marks}</p>
    <button type="button" class="quiet print" data-do="print" onClick=${() => print()}>${t.print}</button>
    <h2>${t.monthsTitle}</h2>
    <div class="months">${Array.from({ length: 12 }, (_, i) => html`<${Month} month=${i + 1} days=${days} zone=${shore.zone} />`)}</div>
  </div>`;
}

/** Pixels that a finger may move in a tap: more than the browsers' own. */
const SLOP = 24;
/** Days that the keys move by. */
const STEPS = /** @type {Record<string, number>} */ ({ ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 });

/**
 * The drawing, one control: it reads the day pointed at and opens it.
 * @param {{days: YearDay[], found: import('./plan-state.js').Year, shore: Shore}} props
 */
function Slide({ days, found, shore }) {
  const t = text.year;
  const { ref, width } = useWidth(Math.min(document.documentElement.clientWidth - 32, 1096));
  const grid = yearGrid({ width, left: 40, top: 18, row: width < 600 ? 48 : 56 });
  // The bars stay as they are while a finger moves over them.
  const bars = useMemo(() => html`<${YearBars} days=${days} phases=${found.phases} zone=${shore.zone} grid=${grid} today=${today.value} />`, [days, found, width, today.value]);
  const here = days.findIndex((day) => day.day === today.value);
  const index = useSignal(here >= 0 ? here : 0);
  /** Where a finger went down, while it is down. */
  const pressed = useRef(/** @type {number | undefined} */ (undefined));
  const one = days[index.value];
  const name = dayName(one.day, today.value);
  const says = one.windows.length === 0 ? t.readingNone(name)
    : t.reading(name, one.windows.map((w) => text.window.usable(clock(w.usableFrom, shore.zone), clock(w.usableTo, shore.zone))), duration(one.minutes));
  const to = `/plan/day/${one.day}`;
  const can = one.day >= FIRST_DAY && one.day <= LAST_DAY;

  /** @param {number} i */
  const move = (i) => (index.value = Math.min(Math.max(i, 0), days.length - 1));
  /** @param {KeyboardEvent} event */
  const key = (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const month = (/** @type {number} */ by) => days.findIndex((day) => day.day === sameDate(one, by));
    const keys = /** @type {Record<string, () => unknown>} */ ({
      Home: () => move(0), End: () => move(days.length - 1), PageUp: () => move(month(1)), PageDown: () => move(month(-1)), Enter: () => can && go(to),
    });
    const act = event.key in STEPS ? () => move(index.value + STEPS[event.key]) : keys[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  };
  /** @param {PointerEvent} event */
  const point = (event) => {
    const box = /** @type {HTMLElement} */ (event.currentTarget).getBoundingClientRect();
    const scale = grid.width / box.width;
    move(days.indexOf(grid.dayAt(days, (event.clientX - box.left) * scale, (event.clientY - box.top) * scale)));
  };
  const open = () => can && go(`/plan/day/${days[index.peek()].day}`);
  return html`
    <p class="year-reading"><span>${says}</span> ${can && html`<${Link} class="button" to=${to} data-do="open">${t.open}<//>`}</p>
    <div ref=${ref} class="slide year-slide" role="slider" tabindex="0" aria-label=${t.gridLabel} aria-describedby="year-hint" aria-orientation="horizontal"
      aria-valuemin="1" aria-valuemax=${days.length} aria-valuenow=${index.value + 1} aria-valuetext=${says} onKeyDown=${key}
      onClick=${open} onPointerCancel=${() => (pressed.current = undefined)}
      onPointerDown=${(/** @type {PointerEvent} */ event) => ((pressed.current = event.clientX), point(event))}
      onPointerMove=${(/** @type {PointerEvent} */ event) => (pressed.current !== undefined || event.pointerType === 'mouse') && point(event)}
      onPointerUp=${(/** @type {PointerEvent} */ event) => {
        // A finger that slid makes no click when it lifts.
        const slid = event.pointerType === 'touch' && pressed.current !== undefined && Math.abs(event.clientX - pressed.current) > SLOP;
        pressed.current = undefined;
        if (slid) open();
      }}>
      <svg class="year-grid" viewBox=${`0 0 ${grid.width} ${grid.height}`} aria-hidden="true">${bars}<${Pointed} day=${one} grid=${grid} /></svg>
    </div>
    <p class="soft" id="year-hint">${t.gridHint}</p>`;
}

/**
 * The same date some months on, or the last of that month; of the same year.
 * @param {YearDay} day
 * @param {number} by
 */
function sameDate(day, by) {
  const month = Math.min(12, Math.max(1, day.month + by));
  const year = day.day.slice(0, 4);
  const last = month === 12 ? 31 : Number(addDays(`${year}-${String(month + 1).padStart(2, '0')}-01`, -1).slice(8));
  return `${year}-${String(month).padStart(2, '0')}-${String(Math.min(day.date, last)).padStart(2, '0')}`;
}

/** @param {{month: number, days: YearDay[], zone: string}} props */
function Month({ month, days, zone }) {
  const t = text.year;
  const open = days.filter((day) => day.month === month && day.minutes > 0);
  const title = t.month(monthName(month), open.length, duration(open.reduce((sum, day) => sum + day.minutes, 0)));
  if (open.length === 0) return html`<p class="no-month">${title}</p>`;
  return html`<details data-month=${month}><summary>${title}</summary>
    <table>
      <thead><tr><th scope="col">${t.columns.day}</th><th scope="col">${t.columns.usable}</th><th scope="col">${t.columns.minutes}</th><th scope="col">${t.columns.low}</th></tr></thead>
      <tbody>${open.map((day) => html`<tr data-day=${day.day}><th scope="row"><${Link} to=${`/plan/day/${day.day}`}>${dayName(day.day, day.day)}<//></th>
        <td>${day.windows.map((w) => html`<span>${text.window.usable(clock(w.usableFrom, zone), clock(w.usableTo, zone))}</span>`)}</td>
        <td>${day.minutes}</td><td>${day.windows.map((w) => html`<span>${waterHeight(w.low.height)}</span>`)}</td></tr>`)}</tbody>
    </table></details>`;
}
