// Which of the four places is shown. Places are paths, so that back and bookmarks work.

import { signal } from '@preact/signals';
import { text } from '../text/en.js';

/** @typedef {'plan' | 'shore' | 'tanks' | 'house'} Place */

/** @type {Place[]} */
export const places = ['plan', 'shore', 'tanks', 'house'];

export const place = signal(read());

/** @returns {Place} */
function read() {
  return places.find((name) => location.pathname === '/' + name) ?? 'plan';
}

addEventListener('popstate', () => (place.value = read()));

/** @param {Place} name */
export function go(name) {
  history.pushState(null, '', '/' + name);
  place.value = name;
  scrollTo(0, 0);
  document.getElementById('page')?.focus();
}

place.subscribe((name) => {
  document.title = `${text.places[name]} · ${text.name}`;
});
