// The year as it is printed, on one page.

import { html } from '../parts/html.js';
import { duration } from '../parts/when.js';
import { asked } from './plan-state.js';
import { Sheet } from './sheet.js';
import { fullMinutes, yearGrid } from './year-days.js';
import { YearBars } from './year-grid.js';
import { text } from '../../text/en.js';

// A4 across less its margins is 277 × 190 mm; 4 units a millimetre.
const SIZE = { width: 1108, left: 34, top: 16, row: 48 };

/**
 * @param {{shore: import('./shore-state.js').Shore, of: string, days: import('./year-days.js').YearDay[], phases: {time: string, kind: string}[]}} props
 */
export function YearSheet({ shore, of, days, phases }) {
  const grid = { ...yearGrid(SIZE), full: SIZE.row - 31, foot: (/** @type {import('./year-days.js').YearDay} */ day) => SIZE.top + day.month * SIZE.row - 22 };
  const { light, least } = asked.value;
  return html`<${Sheet} shore=${shore} title=${`${shore.name}, ${text.year.title(of)}`} kind="year">
    <p>${text.sheet.bars} ${text.year.counts(text.ask.lights[light], duration(least))} ${text.year.full(duration(fullMinutes(days)))}</p>
    <svg class="year-grid" viewBox=${`0 0 ${grid.width} ${grid.height}`}><${YearBars} days=${days} phases=${phases} zone=${shore.zone} grid=${grid} figures=${true} /></svg>
  <//>`;
}
