// The day as a bar: night, light, bare, usable. The words beside it say the same.

import { html } from '../parts/html.js';
import { minuteOfDay } from '../parts/when.js';

const DAY = 1440;

/**
 * @param {{window: any, zone: string, lit?: import('./plan-state.js').Stretch[]}} props
 *   lit are the stretches of light that touch the window's day, if they are known
 */
export function DayBar({ window: w, zone, lit }) {
  /**
   * A piece of the bar; an end that is null lies outside the day.
   * @param {string} kind
   * @param {string | null} from
   * @param {string | null} to
   * @param {number} y
   */
  const piece = (kind, from, to, y) => {
    const x = from === null ? 0 : minuteOfDay(from, w.day, zone);
    const end = to === null ? DAY : minuteOfDay(to, w.day, zone);
    return html`<rect class=${kind} x=${x} y=${y} width=${Math.max(0, end - x)} height=${24 - y} />`;
  };
  return html`<svg class="day-bar" viewBox="0 0 1440 24" preserveAspectRatio="none" aria-hidden="true">
    <rect class=${lit ? 'night' : 'lit'} width=${DAY} height="24" />
    ${lit?.map(({ from, to }) => piece('lit', from, to, 0))}
    ${piece('bare', w.opens, w.shuts, 8)}
    ${piece('use', w.usableFrom, w.usableTo, 8)}
    <rect class="low" x=${minuteOfDay(w.low.time, w.day, zone) - 3} y="0" width="6" height="24" />
  </svg>`;
}
