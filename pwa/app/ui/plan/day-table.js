// The day in figures: waters, sun and moon.

import { html } from '../parts/html.js';
import { dayAndClock, nearestClock } from '../parts/when.js';
import { waterHeight } from '../parts/units.js';
import { text } from '../../text/en.js';

/** @param {{day: import('./plan-state.js').Day, zone: string}} props */
export function DayTable({ day, zone }) {
  const t = text.day.figures;
  const own = (/** @type {{time: string}} */ event) => Date.parse(event.time) >= day.start && Date.parse(event.time) < day.end;
  const events = day.sky.events.filter(own);
  const hours = (day.end - day.start) / 3_600_000;
  return html`<section class="figures" aria-labelledby="figures">
    <h2 id="figures">${text.day.figuresTitle}</h2>
    <div class="tables">
      ${day.waters.length === 0 ? html`<p>${t.noWaters}</p>` : html`<table data-table="waters">
        <thead><tr><th scope="col">${t.water}</th><th scope="col">${t.time}</th><th scope="col">${t.height}</th></tr></thead>
        <tbody>${day.waters.map((w) => html`<tr data-time=${w.time} data-height=${w.height}><th scope="row">${w.kind === 'high' ? t.high : t.low}</th><td>${nearestClock(w.time, zone)}</td><td>${waterHeight(w.height)}</td></tr>`)}</tbody>
      </table>`}
      <div>
        <table data-table="sky">
          <thead><tr><th scope="col">${t.sun}</th><th scope="col">${t.time}</th></tr></thead>
          <tbody>${events.map((/** @type {any} */ e) => html`<tr><th scope="row">${/** @type {any} */ (t)[e.kind]}</th><td>${nearestClock(e.time, zone)}</td></tr>`)}</tbody>
        </table>
        ${steadyLight(day, events).map((words) => html`<p>${words}</p>`)}
        <p>${t.moon}: ${moonWords(day, zone)}</p>
        ${hours !== 24 && html`<p data-hours=${hours}>${t.hours}: ${t.hoursOf(hours)}</p>`}
      </div>
    </div>
  </section>`;
}

/**
 * What the events do not say: a sun that does not set, or does not rise.
 * @param {import('./plan-state.js').Day} day
 * @param {any[]} events
 */
function steadyLight(day, events) {
  const t = text.day.figures;
  if (events.some((e) => e.kind === 'sunrise' || e.kind === 'sunset')) return [];
  const holds = (/** @type {import('./plan-state.js').Stretch[]} */ stretches) => stretches.some(({ from, to }) => Date.parse(from) <= day.start && Date.parse(to) >= day.end - 1000);
  return [holds(day.sky.lit) ? t.allLit : t.allDark];
}

/** @param {import('./plan-state.js').Day} day @param {string} zone */
function moonWords(day, zone) {
  const t = text.day.figures;
  const percent = `${Math.round(day.sky.moon.illuminated * 100)} %`;
  const next = day.sky.phases[0];
  return next ? t.moonOf(percent, t.phases[next.kind] ?? next.kind, dayAndClock(next.time, zone)) : percent;
}
