// The frame around the four places: what is wrong or new on top, when to start back from an
// outing, the place, the way to the others.

import { html } from './parts/html.js';
import { LiveRegion } from './parts/announce.js';
import { Bars } from './parts/bars.js';
import { later } from './parts/later.js';
import { place, places, follow } from './route.js';
import { Plan } from './plan/plan.js';
import { Shore } from './shore/shore.js';
import { BackHead } from './shore/back-head.js';
import { LockScreen } from './shore/lock.js';
import { locked } from './shore/phone-state.js';
import { Notices, Unsent } from './house/notices.js';
import { text } from '../text/en.js';

const pages = {
  plan: Plan,
  shore: Shore,
  tanks: later(async () => (await import('./tanks/tanks.js')).Tanks),
  house: later(async () => (await import('./house/house.js')).House),
};

export function Shell() {
  const Page = pages[place.value];
  return html`
    <a class="skip" href="#page">${text.skip}</a>
    <${LiveRegion} />
    <${Bars} />
    <${Notices} />
    <${BackHead} />
    <${LockScreen} />
    <div class="frame" inert=${locked.value}>
      <main id="page" tabindex="-1"><${Page} /></main>
      <nav class="places" aria-label=${text.placesLabel}>
        ${places.map((name) => html`<${PlaceLink} name=${name} />`)}
      </nav>
    </div>`;
}

/** @param {{name: import('./route.js').Place}} props */
function PlaceLink({ name }) {
  return html`<a href=${'/' + name} aria-current=${place.value === name ? 'page' : undefined} onClick=${follow}>${text.places[name]}${name === 'house' && html`<${Unsent} />`}</a>`;
}
