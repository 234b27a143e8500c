// From an outing to the tanks: what was taken and not settled in yet.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { ready, records } from '../../data/book.js';
import { childsPhone, findsOf, readsOnly } from './finds-state.js';
import { takenOf } from './find.js';
import { text } from '../../text/en.js';

/** @param {{of: string, main?: boolean}} props the outing's id; main: whether it is what the page is for */
export function SettleLink({ of, main = false }) {
  useEffect(() => void ready('specimen'), []);
  const settled = new Set(records('specimen').value.filter(({ deleted }) => !deleted).map(({ fields }) => fields.find));
  const n = findsOf(of).filter((find) => takenOf([find]).length > 0 && !settled.has(find.id)).length;
  if (n === 0 || childsPhone.value || readsOnly.value) return null;
  return html`<${Link} class=${main ? 'button main' : 'button'} data-do="settle" to=${`/tanks/settle/${of}`}>${text.outings.settle(n)}<//>`;
}
