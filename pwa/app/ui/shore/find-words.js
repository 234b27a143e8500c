// A find in a few words, with its marks.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { called, groupName, UNSURE } from '../parts/kinds.js';
import { get, found } from '../../data/db.js';
import { me } from '../../data/door.js';
import { unsent } from '../../data/sync.js';
import { askedOfFind } from './verdict-ask.js';
import { against, useVerdict } from './verdict-state.js';
import { takes } from '../../text/en-takes.js';
import { text } from '../../text/en.js';

/** @typedef {import('./find.js').Find} Find */
/** @typedef {import('./verdict-state.js').Verdict} Verdict */

/**
 * "Sea lettuce", "Unsure, a green alga".
 * @param {Pick<Find, 'taxon' | 'group'>} find
 */
export function what({ taxon, group }) {
  const of = taxon === UNSURE && group !== UNSURE && groupName(group);
  return of ? text.log.unsureOf(of) : called(taxon);
}

/**
 * "3", "120 g"; '' where nobody said.
 * @param {Pick<Find, 'amount'>} find
 */
export const howMuch = ({ amount }) => (amount ? text.finds.amount(amount.value, amount.unit) : '');

/**
 * Whether something of a find waits to be sent, undefined until that is known; looked up one by one, as few are on the
 * screen at a time.
 * @param {Find} find
 */
export function useUnsent({ id, photos }) {
  const waits = useSignal(/** @type {boolean | undefined} */ (undefined));
  useEffect(() => {
    let gone = false;
    Promise.all([found('changes', 'record', ['find', id]), ...photos.map((sha) => get('photos', sha))]).then(([changes, ...whole]) => {
      if (!gone) waits.value = changes.some((/** @type {any} */ change) => change.outbox) || whole.some((photo) => photo?.outbox);
    }, () => {}); // not known, so not said
    return () => {
      gone = true;
    };
  }, [id, photos.length, unsent.value]);
  return waits.value;
}

/** @param {{find: Find}} props */
export function Marks({ find }) {
  const t = text.finds;
  const waits = useUnsent(find);
  const verdict = useVerdict(find.fate === 'taken' && !find.deleted ? askedOfFind(find) : undefined);
  const marks = [
    takes.marks[verdict?.verdict ?? ''], takes.marks[verdict?.household ?? ''] && takes.oursMark,
    find.unfinished && t.unfinished, waits && me.value && t.unsent,
  ].filter(Boolean);
  return marks.length > 0 ? html`<span class="marks" data-against=${against(verdict) && verdict?.verdict}>${marks.join(' · ')}</span>` : null;
}
