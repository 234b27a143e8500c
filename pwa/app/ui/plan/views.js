// The ways to see a shore: as a list, one day, one year.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { days, today } from './plan-state.js';
import { text } from '../../text/en.js';

/** @param {{now: 'list' | 'day' | 'year', day?: string, year?: string}} props the day or year shown */
export function Views({ now, day, year }) {
  const t = text.plan;
  const on = day ?? (year ? (today.value.startsWith(year) ? today.value : `${year}-01-05`) : days.value.from);
  const paths = { list: '/plan', day: `/plan/day/${on}`, year: `/plan/year/${year ?? on.slice(0, 4)}` };
  return html`<nav class="views" aria-label=${t.views}>
    ${Object.entries(paths).map(([name, to]) => html`<${Link} to=${to} aria-current=${name === now ? 'page' : undefined}>${t[/** @type {'list'} */ (name)]}<//>`)}
  </nav>`;
}
