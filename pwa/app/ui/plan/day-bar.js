// The day as a bar: night, light, bare, usable. The words beside it say the same.

import { html } from '../parts/html.js';
import { localDay, clock } from '../parts/when.js';

/** @param {{window: any, zone: string}} props */
export function DayBar({ window: w, zone }) {
  /**
   * Minutes of the window's local day, cut at its ends.
   * @param {string} instant
   */
  const minute = (instant) => {
    const day = localDay(Date.parse(instant), zone);
    if (day !== w.day) return day < w.day ? 0 : 1440;
    const [h, m] = clock(instant, zone).split(':').map(Number);
    return h * 60 + m;
  };
  /** @param {string} kind @param {string} from @param {string} to @param {number} y @param {number} height */
  const piece = (kind, from, to, y, height) => {
    const x = minute(from);
    return html`<rect class=${kind} x=${x} y=${y} width=${Math.max(0, minute(to) - x)} height=${height} />`;
  };
  return html`<svg class="day-bar" viewBox="0 0 1440 24" preserveAspectRatio="none" aria-hidden="true">
    <rect class="night" width="1440" height="24" />
    ${piece('lit', w.litFrom, w.litTo, 0, 24)}
    ${piece('bare', w.opens, w.shuts, 6, 18)}
    ${piece('use', w.usableFrom, w.usableTo, 6, 18)}
    <rect class="low" x=${minute(w.low.time) - 2} y="0" width="4" height="24" />
  </svg>`;
}
