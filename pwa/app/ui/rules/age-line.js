// How old a set's check is: a square that is filled while it counts, hollow when it does not,
// and the words.

import { html } from '../parts/html.js';
import { age } from './on-file.js';
import { monthDay } from './days.js';
import { rules } from '../../text/en-rules.js';

/** @param {{of: import('./on-file.js').OnFile, long?: boolean}} props */
export function AgeLine({ of, long }) {
  const t = rules.age;
  const a = age(of);
  const words = a.is === 'fresh' ? t.fresh(a.days) : a.is === 'overdue' ? t.overdue(a.days, monthDay(a.since)) : t[a.is];
  const by = of.checked && a.is !== 'own' && a.is !== 'never' ? (long ? ` ${t.by(monthDay(of.checked.on), of.checked.by)}.` : '.') : '';
  return html`<span class="check-age" data-age=${a.is}>${a.is !== 'own' && html`<svg class="age-mark" viewBox="0 0 16 16" aria-hidden="true"><path d="M2 2H14V14H2Z" /></svg> `}<span>${words}${by}</span></span>`;
}
