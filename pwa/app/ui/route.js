// Which page is shown. Pages are paths, so that back and bookmarks work: the first part
// names the place, the rest is the place's own.

import { signal, computed } from '@preact/signals';
import { text } from '../text/en.js';

/** @typedef {'plan' | 'shore' | 'tanks' | 'house'} Place */

/** @type {Place[]} */
export const places = ['plan', 'shore', 'tanks', 'house'];

const path = signal(location.pathname);

/** The parts of the path: ['plan', 'day', '2026-12-12']. */
export const parts = computed(() => path.value.split('/').filter(Boolean));

/** /pair, where an invitation's link leads, is a page of House. */
export const place = computed(() => (parts.value[0] === 'pair' ? 'house' : places.find((name) => name === parts.value[0]) ?? 'plan'));

// The browser restores a scroll before the page is drawn again; so it is done here.
history.scrollRestoration = 'manual';

addEventListener('popstate', (event) => {
  path.value = location.pathname;
  requestAnimationFrame(() => requestAnimationFrame(() => scrollTo(0, event.state?.scroll ?? 0)));
});

/** @param {string} to a path such as /plan/day/2026-12-12 */
export function go(to) {
  history.replaceState({ scroll: scrollY }, '');
  history.pushState(null, '', to);
  path.value = to;
  scrollTo(0, 0);
  document.getElementById('page')?.focus();
}

/**
 * Follows a link in the app; one that is meant for a new tab is left to the browser.
 * @param {MouseEvent} event
 */
export function follow(event) {
  if (event.metaKey || event.ctrlKey || event.shiftKey || event.button !== 0) return;
  event.preventDefault();
  go(/** @type {HTMLAnchorElement} */ (event.currentTarget).pathname);
}

/** @param {string} [name] of the page, where the place has more than one */
export function entitle(name) {
  document.title = `${name ?? text.places[place.peek()]} · ${text.name}`;
}

place.subscribe(() => entitle());
