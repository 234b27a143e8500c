// One day of a tick sheet as it is typed in.

import { html } from '../parts/html.js';
import { MOST_SEEN } from './ticks-week.js';
import { paper } from '../../text/en-tank-paper.js';

/** @typedef {import('./ticks-week.js').Day} Day */
/** @typedef {import('./ticks-week.js').Mark} Mark */
/** @typedef {import('./ticks-enter.js').Row} Row */

const MARKS = /** @type {Mark[]} */ (['', 'looked', 'seen']);
const GRADES = /** @type {const} */ (['', 'unsure', 'harmless', 'watch', 'pest', 'notify']);

/**
 * @param {{day: string, title: string, rows: Row[], people: Record<string, any>[], is: Day, set: (change: (was: Day) => Partial<Day>) => void, wrong: Record<string, string>, keep: (event: Event) => void}} props
 */
export function TickDay({ day, title, rows, people, is, set, wrong, keep }) {
  const t = paper.enter;
  const asked = rows.filter(({ onFile }) => !onFile);
  const all = asked.length > 0 && asked.every(({ ref }) => is.marks[ref] === 'looked');
  const tickAll = () => set(({ marks }) => ({ marks: { ...marks, ...Object.fromEntries(asked.map(({ ref }) => [ref, all ? '' : marks[ref] === 'seen' ? 'seen' : 'looked'])) } }));
  return html`<form class="tick-form" data-day=${day} onSubmit=${keep} novalidate>
    <h2 id="tick-day" tabindex="-1">${title}</h2>
    ${asked.length > 0 && html`<div class="pair">
      <div class="field"><label for="tick-time">${t.time}</label>
        <input id="tick-time" type="text" inputmode="numeric" autocomplete="off" value=${is.time} onInput=${(/** @type {any} */ e) => set(() => ({ time: e.target.value }))} aria-invalid=${Boolean(wrong.time)} aria-describedby="tick-time-hint tick-time-wrong" />
        <p id="tick-time-hint" class="soft">${t.timeHint}</p><p id="tick-time-wrong" class="wrong">${wrong.time}</p></div>
      <div class="field"><label for="tick-who">${t.who}</label>
        <select id="tick-who" value=${is.who} onChange=${(/** @type {any} */ e) => set(() => ({ who: e.target.value }))} aria-invalid=${Boolean(wrong.who)} aria-describedby="tick-who-wrong">
          <option value="">${t.choose}</option>${people.map(({ id, name }) => html`<option value=${id} selected=${id === is.who}>${name}</option>`)}</select>
        <p id="tick-who-wrong" class="wrong">${wrong.who}</p></div>
    </div>
    ${asked.length > 1 && html`<button type="button" class="quiet" data-do="all" aria-invalid=${Boolean(wrong.marks)} onClick=${tickAll}>${all ? t.none : t.all}</button>`}`}
    <ul class="tick-rows">${rows.map((row) => html`<${TickRow} key=${row.ref} row=${row} is=${is} set=${set} wrong=${wrong[row.ref]} />`)}</ul>
    ${asked.length > 0 && html`<p class="wrong" role="alert">${wrong.marks}</p>
      <button type="submit" class="main" data-do="keep">${t.save(title)}</button>`}
  </form>`;
}

/** @param {{row: Row, is: Day, set: (change: (was: Day) => Partial<Day>) => void, wrong?: string}} props */
function TickRow({ row: { ref, name, onFile }, is, set, wrong }) {
  const t = paper.enter;
  if (onFile) return html`<li data-system=${ref} data-on-file><strong>${name}</strong> <span class="soft">${onFile}</span></li>`;
  const mark = is.marks[ref] ?? '';
  const seen = is.seen[ref] ?? { what: '', grade: '' };
  const see = (/** @type {Partial<typeof seen>} */ change) => set((was) => ({ seen: { ...was.seen, [ref]: { ...(was.seen[ref] ?? { what: '', grade: '' }), ...change } } }));
  return html`<li data-system=${ref}><fieldset><legend>${name}</legend>
    <div class="tick-marks">${MARKS.map((one) => html`<label class="tick-mark" key=${one}><input type="radio" name=${`mark-${ref}`} value=${one} checked=${mark === one}
      onChange=${() => set((was) => ({ marks: { ...was.marks, [ref]: one } }))} /><span>${t.marks[one]}</span></label>`)}</div>
    ${mark === 'seen' && html`<div class="pair">
      <div class="field"><label for=${`what-${ref}`}>${t.what}</label><input id=${`what-${ref}`} type="text" autocomplete="off" maxlength=${MOST_SEEN} value=${seen.what} onInput=${(/** @type {any} */ e) => see({ what: e.target.value })}
        aria-invalid=${Boolean(wrong)} aria-describedby=${`wrong-${ref}`} /></div>
      <div class="field"><label for=${`grade-${ref}`}>${t.grade}</label><select id=${`grade-${ref}`} value=${seen.grade} onChange=${(/** @type {any} */ e) => see({ grade: e.target.value })}>
        ${GRADES.map((grade) => html`<option value=${grade} selected=${grade === seen.grade}>${t.grades[grade]}</option>`)}</select></div></div>`}
    <p id=${`wrong-${ref}`} class="wrong">${wrong}</p></fieldset></li>`;
}
