// Thunder: the count of the thirty minutes that begin again at each clap.

import { html } from '../parts/html.js';
import { beat } from './beat.js';
import { heardThunder, underWay } from './outing-state.js';
import { lastOf, THUNDER_MINUTES } from './outing.js';
import { text } from '../../text/en.js';

const WHOLE_MS = THUNDER_MINUTES * 60_000;
/** For how long after the thirty minutes the page still says to look at the sky. */
const AFTER_MS = WHOLE_MS;

/** In the outing's panel: nothing while it has not thundered. */
export function Thunder() {
  const t = text.staff.thunder;
  const last = lastOf(underWay.value?.thunderMs);
  const since = last === undefined ? Infinity : beat.value - last;
  if (since >= WHOLE_MS + AFTER_MS) return null;
  if (since >= WHOLE_MS) return html`<section class="thunder-over" aria-label=${t.title} data-thunder="over"><p class="heed">${t.over}</p></section>`;
  const left = Math.ceil((WHOLE_MS - Math.max(0, since)) / 1000);
  return html`<section class="thunder" aria-labelledby="thunder" data-thunder=${left}>
    <h2 id="thunder">${t.leave}</h2>
    <p class="count" role="timer">${t.count(`${Math.floor(left / 60)}:${String(left % 60).padStart(2, '0')}`)}</p>
    <p>${t.rule}</p>
  </section>`;
}

export function ThunderButton() {
  const outing = underWay.value;
  if (!outing) return null;
  const hear = async () => {
    await heardThunder(outing.id);
    scrollTo(0, 0); // there it stands, and counts
  };
  const again = beat.value - (lastOf(outing.thunderMs) ?? -Infinity) < WHOLE_MS;
  return html`<button type="button" class="grave" data-do="thunder" onClick=${hear}>${again ? text.staff.thunder.again : text.staff.under.thunder}</button>`;
}
