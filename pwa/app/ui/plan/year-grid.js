// The year as twelve rows of days, each a bar as tall as its usable minutes.

import { html } from '../parts/html.js';
import { clock, localDay, monthName } from '../parts/when.js';
import { fullMinutes } from './year-days.js';

/** @typedef {import('./year-days.js').YearDay} YearDay */

/**
 * @param {{days: YearDay[], phases: {time: string, kind: string}[], zone: string, grid: ReturnType<typeof import('./year-days.js').yearGrid>,
 *   today?: string, figures?: boolean}} props figures writes times under the bars
 */
export function YearBars({ days, phases, zone, grid: g, today, figures }) {
  const full = fullMinutes(days);
  const moons = new Map(phases.filter(({ kind }) => kind === 'new' || kind === 'full').map((phase) => [localDay(Date.parse(phase.time), zone), phase.kind]));
  return html`<g>
    ${[1, 5, 10, 15, 20, 25, 31].map((date) => html`<text class="figure" x=${g.left + (date - 0.5) * g.cell} y=${g.top - 4} text-anchor="middle">${date}</text>`)}
    ${Array.from({ length: 12 }, (_, i) => html`<text class="month" x="0" y=${g.top + (i + 1) * g.row - 12}>${monthName(i + 1, 'short')}</text>`)}
    ${days.map((day) => {
      const [x, foot] = [g.x(day), g.foot(day)];
      const tall = (day.minutes / full) * g.full;
      const moon = moons.get(day.day);
      const bar = Math.max(2, g.cell - 2);
      return html`<g data-day=${day.day} data-minutes=${day.minutes}>
        <path class=${day.weekend ? 'foot weekend' : 'foot'} d=${`M${x} ${foot + (day.weekend ? 2 : 0.5)}h${g.cell}`} />
        ${tall > 0 && html`<rect class="bar" x=${x + 1} y=${foot - tall} width=${bar} height=${tall} />`}
        ${moon && html`<circle class=${moon} cx=${x + g.cell / 2} cy=${foot - g.full - 4} r="3" />`}
        ${day.day === today && html`<rect class="today" x=${x} y=${foot - g.full} width=${g.cell} height=${g.full + 5} />`}
        ${figures && day.windows.slice(0, 1).map((w) => [w.usableFrom, w.usableTo].map((instant, i) => html`<text class="print-time" x=${x + g.cell / 2} y=${foot + 13 + i * 8} text-anchor="middle">${clock(instant, zone)}${i === 1 && day.windows.length > 1 && '+'}</text>`))}
      </g>`;
    })}
  </g>`;
}

/** The frame around the day pointed at. */
export function Pointed(/** @type {{day: YearDay, grid: ReturnType<typeof import('./year-days.js').yearGrid>}} */ { day, grid: g }) {
  return html`<rect class="at" x=${g.x(day) - 1} y=${g.foot(day) - g.full - 8} width=${g.cell + 2} height=${g.full + 15} />`;
}
