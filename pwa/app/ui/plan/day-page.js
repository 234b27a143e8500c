// One day of a shore.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { useWidth } from '../parts/width.js';
import { addDays, clock, dayName, duration, level, metres, nearestClock } from '../parts/when.js';
import { entitle } from '../route.js';
import { BeforeYouGo } from './before-you-go.js';
import { ChooseBox, ChosenBar } from './chosen.js';
import { ClosedLine, ClosedNotes } from './closed-notes.js';
import { DayChart, frame, instantAt, Legend } from './day-chart.js';
import { reading } from './day-reading.js';
import { DayTable } from './day-table.js';
import { isGrave } from './notes.js';
import { day, RAISE, today } from './plan-state.js';
import { FIRST_DAY, isDay, LAST_DAY } from './reckoned-days.js';
import { StationCautions } from './station-cautions.js';
import { Status } from './status.js';
import { Views } from './views.js';
import { Reasons } from './window-row.js';
import { text } from '../../text/en.js';

/** @typedef {import('./shore-state.js').Shore} Shore */
/** @typedef {import('./plan-state.js').Day} Day */

/** @param {{shore: Shore, on: string}} props on is from the path, and may be anything */
export function DayPage({ shore, on }) {
  const t = text.day;
  const name = isDay(on) ? dayName(on, '') : t.badDay;
  useEffect(() => {
    entitle(name);
    return () => entitle();
  }, [name]);
  if (!isDay(on)) return html`<h1>${t.badDay}</h1><${Views} now="day" />`;
  const shown = day.shown.value;
  const found = shown?.answer;
  return html`
    <${Views} now="day" day=${on} />
    <div class="turn">
      <h1>${name}</h1>
      <${Neighbour} on=${addDays(on, -1)} mark="‹" />
      <${Neighbour} on=${addDays(on, 1)} mark="›" />
    </div>
    <${Status} of=${day} zone=${shore.zone} found="" />
    ${found && html`<div class="day" data-on=${on} data-kept=${String(Boolean(shown?.keptAt))}>
      ${found.start === found.end ? html`<p class="none">${t.noSuchDay}</p>` : html`
        <${DayWindows} day=${found} shore=${shore} />
        <${DayCurve} key=${on} day=${found} shore=${shore} />
        <${Legend} />
        <${DayTable} day=${found} zone=${shore.zone} />`}
    </div>`}
    <${BeforeYouGo} />
    <${StationCautions} />
    <${ChosenBar} />`;
}

/** @param {{on: string, mark: string}} props */
function Neighbour({ on, mark }) {
  if (on < FIRST_DAY || on > LAST_DAY) return html`<span />`;
  const name = dayName(on, today.value);
  return html`<${Link} class="button quiet" to=${`/plan/day/${on}`} data-do=${mark === '‹' ? 'before' : 'after'}>${mark === '‹' ? `‹ ${name}` : `${name} ›`}<//>`;
}

/**
 * The windows in words, with their reasons and cautions, or why there is none.
 * @param {{day: Day, shore: Shore}} props
 */
function DayWindows({ day: found, shore }) {
  const t = text.window;
  /** @param {string} instant */
  const at = (instant) => clock(instant, shore.zone);
  return html`<section class="day-windows" aria-labelledby="day-windows">
    <h2 class="unseen" id="day-windows">${text.day.windowsTitle}</h2>
    ${found.cautions.map((/** @type {any} */ c) => html`<p class="soft">${c.text}</p>`)}
    ${found.windows.length === 0 && html`<p class="none">${text.day.none} ${found.none?.text}</p>`}
    <${ClosedLine} windows=${found.windows} />
    ${found.windows.map((w) => html`<article class="window" key=${w.low.time} data-usable-from=${w.usableFrom} data-usable-to=${w.usableTo}>
      <div class="top"><h3><span class="usable">${t.usable(at(w.usableFrom), at(w.usableTo))}</span> <span class="long">${duration(w.usableMinutes)}</span></h3>
        <${ChooseBox} shore=${shore} window=${w} /></div>
      <${ClosedNotes} window=${w} zone=${shore.zone} full=${true} />
      <p class="back"><strong>${t.startBack} ${at(w.startBack)}</strong> <span class="off">${t.offBy} ${at(w.offBy)}</span></p>
      <p>${t.low(metres(w.low.height), nearestClock(w.low.time, shore.zone))}${w.leaveHome !== w.usableFrom && ` · ${t.leaveHome(at(w.leaveHome))}`}</p>
      <p class="raised">${w.raised ? t.raised(level(RAISE), duration(w.raised.usableMinutes)) : t.raisedNone(level(RAISE))}</p>
      ${w.cautions.some(isGrave) && html`<ul class="heed">${w.cautions.filter(isGrave).map((/** @type {any} */ c) => html`<li data-caution=${c.code}>${c.text}</li>`)}</ul>`}
      <details><summary>${t.why}</summary><${Reasons} window=${w} zone=${shore.zone} /></details>
      <${Link} class="button plan-outing" data-do="outing" aria-label=${`${text.trip.fromPlan}: ${t.usable(at(w.usableFrom), at(w.usableTo))}`} to=${`/shore/outing/new/${shore.id}/${found.windows[0].day}/${w.usableFrom}`}>${text.trip.fromPlan}<//>
    </article>`)}
  </section>`;
}

const MINUTE = 60_000;
/** Minutes that the keys move the reading line by. */
const STEPS = /** @type {Record<string, number>} */ ({ ArrowRight: 5, ArrowUp: 5, ArrowLeft: -5, ArrowDown: -5, PageUp: 60, PageDown: -60 });

/**
 * The curve with the reading line, which follows finger and keys, and what it reads.
 * @param {{day: Day, shore: Shore}} props
 */
function DayCurve({ day: found, shore }) {
  const t = text.day;
  const { ref, width } = useWidth(Math.min(document.documentElement.clientWidth - 32, 1096));
  const first = found.windows[0] ? Date.parse(found.windows[0].low.time) : (found.start + found.end) / 2;
  const at = useSignal(Math.round(first / (5 * MINUTE)) * 5 * MINUTE);
  const f = frame(width, found);
  const { words, heightM } = reading(found, at.value, shore);
  const last = found.end - MINUTE;

  /** @param {KeyboardEvent} event */
  const key = (event) => {
    const to = event.key === 'Home' ? found.start : event.key === 'End' ? last : event.key in STEPS ? at.value + STEPS[event.key] * MINUTE : undefined;
    if (to === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    at.value = Math.min(Math.max(to, found.start), last);
  };
  /** @param {PointerEvent} event */
  const point = (event) => {
    const box = /** @type {HTMLElement} */ (event.currentTarget).getBoundingClientRect();
    at.value = Math.min(instantAt(f, ((event.clientX - box.left) / box.width) * f.width), last);
  };
  /** @param {PointerEvent} event */
  const press = (event) => {
    /** @type {HTMLElement} */ (event.currentTarget).setPointerCapture(event.pointerId);
    point(event);
  };
  return html`<div class="day-curve">
    <p class="reading" id="reading">${t.reading(words)}</p>
    <div ref=${ref} class="slide" role="slider" tabindex="0" aria-label=${t.readingLabel} aria-describedby="reading-hint"
      aria-orientation="horizontal" aria-valuemin="0" aria-valuemax=${(last - found.start) / MINUTE} aria-valuenow=${(at.value - found.start) / MINUTE}
      aria-valuetext=${t.spoken(words)} onKeyDown=${key} onPointerDown=${press}
      onPointerMove=${(/** @type {PointerEvent} */ event) => (event.buttons || event.pointerType === 'mouse') && point(event)}>
      <${DayChart} day=${found} shore=${shore} frame=${f} at=${at.value} heightM=${heightM} />
    </div>
    <p class="soft" id="reading-hint">${t.readingHint}</p>
  </div>`;
}
