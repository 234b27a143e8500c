// The answers to what a notice may say of a kind, one component a question.

import { html } from '../parts/html.js';
import { More, PickIn, Radios, TextIn, Tick } from './inputs.js';
import { inWords } from './rule-words.js';
import { LimitsPart } from './limit-part.js';
import { SeasonPart } from './season-part.js';
import { newSize } from './rule-fields.js';
import { WRITTEN_IN } from './measures.js';
import { ruleForm as t } from '../../text/en-rule-form.js';

/** @typedef {import('./rule-fields.js').RuleWritten} RuleWritten */
/** @typedef {{w: RuleWritten, set: (change: Partial<RuleWritten>) => void, wrong: Record<string, string>}} Part */

const mmUnits = WRITTEN_IN.mm.map(([name]) => /** @type {[string, string]} */ ([name, name]));

/** @param {Part} props */
function SizesPart({ w, set, wrong }) {
  const change = (/** @type {number} */ i, /** @type {object} */ some) => set({ sizes: w.sizes.map((one, j) => (j === i ? { ...one, ...some } : one)) });
  const free = Object.keys(t.axis).find((axis) => !w.sizes.some((one) => one.axis === axis));
  return html`${w.sizes.map((one, i) => html`<div class="answer-row" key=${i}>
      <${PickIn} id=${`sizes${i}-axis`} label=${t.size.axis} value=${one.axis} set=${(/** @type {string} */ axis) => change(i, { axis })} options=${Object.entries(t.axis)} />
      <div class="triple"><${TextIn} id=${`sizes${i}-least`} label=${t.size.least} mode="decimal" value=${one.least} set=${(/** @type {string} */ least) => change(i, { least })} wrong=${wrong[`sizes${i}-least`]} />
        <${TextIn} id=${`sizes${i}-most`} label=${t.size.most} mode="decimal" value=${one.most} set=${(/** @type {string} */ most) => change(i, { most })} wrong=${wrong[`sizes${i}-most`]} />
        <${PickIn} id=${`sizes${i}-as`} label=${t.size.as} value=${one.as} set=${(/** @type {string} */ as) => change(i, { as })} options=${mmUnits} /></div></div>`)}
    <${More} on=${free !== undefined && w.sizes.length < 6} n=${w.sizes.length} add=${() => set({ sizes: [...w.sizes, newSize(free)] })} less=${() => set({ sizes: w.sizes.slice(0, -1) })} />`;
}

/** @param {Part} props */
function HoursPart({ w, set, wrong }) {
  const { sun, from, to } = w.hours;
  const change = (/** @type {object} */ some) => set({ hours: { ...w.hours, ...some } });
  return html`<${Radios} name="hours" legend=${t.hours.is} value=${sun ? 'sun' : 'clock'} set=${(/** @type {string} */ is) => change({ sun: is === 'sun' })} options=${Object.entries(t.hours.ises)} />
    ${!sun && html`<div class="pair"><${TextIn} id="hours-from" label=${t.hours.from} type="time" value=${from} set=${(/** @type {string} */ is) => change({ from: is })} wrong=${wrong['hours-from']} />
      <${TextIn} id="hours-to" label=${t.hours.to} type="time" value=${to} set=${(/** @type {string} */ is) => change({ to: is })} /></div>`}`;
}

/** @param {'gear' | 'use'} part */
const listPart = (part) => function ListPart(/** @type {Part} */ { w, set, wrong }) {
  const of = t[part];
  return html`<${TextIn} id=${`${part}-only`} label=${of.only} hint=${of.onlyHint} lines=${2} value=${w[part].only} set=${(/** @type {string} */ only) => set({ [part]: { ...w[part], only } })} wrong=${wrong[`${part}-only`]} />
    <${TextIn} id=${`${part}-never`} label=${of.never} hint=${of.neverHint} lines=${2} value=${w[part].never} set=${(/** @type {string} */ never) => set({ [part]: { ...w[part], never } })} />`;
};

/** @param {Part} props */
function CutPart({ w, set, wrong }) {
  const change = (/** @type {object} */ some) => set({ cut: { ...w.cut, ...some } });
  return html`<div class="triple"><${TextIn} id="cut-leave" label=${t.cut.leave} mode="decimal" value=${w.cut.leave} set=${(/** @type {string} */ leave) => change({ leave })} wrong=${wrong['cut-leave']} />
      <${PickIn} id="cut-as" label=${t.cut.as} value=${w.cut.as} set=${(/** @type {string} */ as) => change({ as })} options=${mmUnits} />
      <${PickIn} id="cut-above" label=${t.cut.above} value=${w.cut.above} set=${(/** @type {string} */ above) => change({ above })} options=${Object.entries(t.cut.aboves)} wrong=${wrong['cut-above']} /></div>
    <${TextIn} id="cut-part" label=${t.cut.part} mode="decimal" value=${w.cut.part} set=${(/** @type {string} */ part) => change({ part })} wrong=${wrong['cut-part']} />
    <${Tick} name="cut-notTorn" label=${t.cut.notTorn} checked=${w.cut.notTorn} set=${(/** @type {boolean} */ notTorn) => change({ notTorn })} />`;
}

/** @param {Part} props */
function PersonPart({ w, set, wrong }) {
  const p = w.person;
  const change = (/** @type {object} */ some) => set({ person: { ...p, ...some } });
  return html`<${TextIn} id="person-licence" label=${t.person.licence} hint=${t.person.licenceHint} most=${120} value=${p.licence} set=${(/** @type {string} */ licence) => change({ licence })} wrong=${wrong['person-licence']} />
    ${p.above && html`<div class="kept-parts"><p>${t.person.above}</p><p>${inWords({ of: { all: true }, limits: [p.above] }).says[0]}</p></div>`}
    <${TextIn} id="person-consent" label=${t.person.consent} most=${120} value=${p.consent} set=${(/** @type {string} */ consent) => change({ consent })} />
    <div class="pair"><${TextIn} id="person-ageFrom" label=${t.person.ageFrom} mode="numeric" value=${p.ageFrom} set=${(/** @type {string} */ ageFrom) => change({ ageFrom })} wrong=${wrong['person-ageFrom']} />
      <${TextIn} id="person-ageTo" label=${t.person.ageTo} mode="numeric" value=${p.ageTo} set=${(/** @type {string} */ ageTo) => change({ ageTo })} wrong=${wrong['person-ageTo']} /></div>`;
}

/** @param {Part} props */
const ReturnPart = ({ w, set, wrong }) => html`<${Radios} name="return" legend=${t.back.is} value=${w.back} wrong=${wrong.return} set=${(/** @type {string} */ back) => set({ back })} options=${Object.entries(t.back.ises)} />`;

/** @param {Part} props */
function DutiesPart({ w, set, wrong }) {
  const change = (/** @type {number} */ i, /** @type {object} */ some) => set({ duties: w.duties.map((one, j) => (j === i ? { ...one, ...some } : one)) });
  return html`${w.duties.map((one, i) => html`<div class="answer-row" key=${i}>
      <${TextIn} id=${`duties${i}-do`} label=${t.duty.do} hint=${t.duty.doHint} most=${300} value=${one.do} set=${(/** @type {string} */ is) => change(i, { do: is })} wrong=${wrong[`duties${i}-do`]} />
      <${TextIn} id=${`duties${i}-ask`} label=${t.duty.ask} hint=${t.duty.askHint} most=${300} value=${one.ask} set=${(/** @type {string} */ ask) => change(i, { ask })} /></div>`)}
    <${More} on=${w.duties.length < 20} n=${w.duties.length} add=${() => set({ duties: [...w.duties, { do: '', ask: '' }] })} less=${() => set({ duties: w.duties.slice(0, -1) })} />`;
}

/** @param {Part} props */
const NotePart = ({ w, set, wrong }) => html`<${TextIn} id="note" label=${t.noteIn} lines=${2} most=${1000} value=${w.note} set=${(/** @type {string} */ note) => set({ note })} wrong=${wrong.note} />`;

/** @type {Record<typeof import('./rule-fields.js').QUESTIONS[number], (props: Part) => any>} */
export const parts = {
  limits: LimitsPart, sizes: SizesPart, season: SeasonPart, hours: HoursPart, gear: listPart('gear'), cut: CutPart, use: listPart('use'), person: PersonPart, return: ReturnPart, duties: DutiesPart, note: NotePart,
};
