// What is asked of a set before it is on file, and never taken from the file itself: when
// somebody compared it with its source, who that was, which of the household's shores lie in it.

import { html } from '../parts/html.js';
import { counts, sets, shores, today } from './on-file.js';
import { ageOf, isDay } from './days.js';
import { TextIn, Tick } from './inputs.js';
import { rules } from '../../text/en-rules.js';

/** @typedef {{on: string, by: string, shores: string[], none: boolean}} CheckedWritten */

/** @returns {CheckedWritten} */
export const newChecked = () => ({ on: '', by: '', shores: [], none: false });

/** As internal/book has it, in characters. */
export const MOST_BY = 300;
/** As internal/core has it. */
const MOST_SETS = 200;

/**
 * What is wrong with it, by the id of its control.
 * @param {CheckedWritten} w
 * @param {Record<string, any>} document
 * @param {string} [id] of the set whose place it takes
 */
export function wrongCheck(w, document, id) {
  const t = rules.check;
  /** @type {Record<string, string>} */
  const wrong = {};
  if (!id && sets.peek().length >= MOST_SETS) wrong.full = t.full(MOST_SETS);
  if (document.layer !== 'household') {
    if (!isDay(w.on)) wrong['checked-on'] = t.needOn;
    else if (w.on > today.peek()) wrong['checked-on'] = t.ahead;
    if (!w.by.trim()) wrong['checked-by'] = t.needBy;
    else if (Array.from(w.by.trim()).length > MOST_BY) wrong['checked-by'] = t.tooLong(MOST_BY);
  }
  if (asksShores(document) && shores.peek().length > 0 && !w.none && w.shores.length === 0) wrong['for-shores'] = t.needShores;
  return wrong;
}

/**
 * A set with an area on the map knows its shores by their place.
 * @param {Record<string, any>} document
 */
export const asksShores = (document) => Boolean(document.area?.everywhere);

/** @param {{w: CheckedWritten, set: (change: Partial<CheckedWritten>) => void, wrong: Record<string, string>, document: Record<string, any>}} props */
export function CheckedForm({ w, set, wrong, document }) {
  const t = rules.check;
  const old = isDay(w.on) && ageOf({ layer: document.layer, checked: { on: w.on, by: '' }, today: today.value, counts: counts.value }).is === 'overdue';
  return html`${document.layer !== 'household' && html`<section class="check-form" aria-labelledby="check-title"><h2 id="check-title">${t.title}</h2>
      <p>${t.why}</p>
      <${TextIn} id="checked-on" label=${t.on} hint=${t.onHint} type="date" value=${w.on} set=${(/** @type {string} */ on) => set({ on })} wrong=${wrong['checked-on']} />
      ${old && html`<p class="heed" data-old>${t.old}</p>`}
      <${TextIn} id="checked-by" label=${t.by} value=${w.by} set=${(/** @type {string} */ by) => set({ by })} wrong=${wrong['checked-by']} />
    </section>`}
    <${ShoresPick} w=${w} set=${set} wrong=${wrong['for-shores']} document=${document} />
    <p class="wrong">${wrong.full}</p>`;
}

/** @param {{w: Pick<CheckedWritten, 'shores' | 'none'>, set: (change: Partial<CheckedWritten>) => void, wrong?: string, document: Record<string, any>}} props */
export function ShoresPick({ w, set, wrong, document }) {
  const t = rules.check;
  if (!asksShores(document)) return html`<p class="soft">${rules.set.shoresDrawn}</p>`;
  if (shores.value.length === 0) return html`<p class="heed">${t.noShores}</p>`;
  return html`<fieldset class="field" id="for-shores" tabindex="-1" aria-invalid=${Boolean(wrong)} aria-describedby="for-shores-wrong"><legend>${document.layer === 'household' ? t.ourShores : t.shores(document.area.place)}</legend>
    <p class="soft">${t.shoresHint}</p>
    ${shores.value.map(({ id, name }) => html`<${Tick} key=${id} name=${`shore-${id}`} label=${name} checked=${w.shores.includes(id)}
      set=${(/** @type {boolean} */ is) => set({ none: false, shores: is ? [...w.shores, id] : w.shores.filter((one) => one !== id) })} />`)}
    <${Tick} name="shore-none" label=${t.noneOfThem} checked=${w.none} set=${(/** @type {boolean} */ none) => set({ none, shores: none ? [] : w.shores })} />
    <p id="for-shores-wrong" class="wrong">${wrong}</p></fieldset>`;
}
