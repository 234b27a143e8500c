// "How many, or how much, may be taken?": limits, each by itself; all of them hold together.

import { html } from '../parts/html.js';
import { More, PickIn, TextIn, Tick } from './inputs.js';
import { WRITTEN_IN } from './measures.js';
import { inWords } from './rule-words.js';
import { newLimit } from './rule-fields.js';
import { ruleForm } from '../../text/en-rule-form.js';

/** @typedef {import('./rule-fields.js').LimitWritten} LimitWritten */

const MOST = 20;

/** @param {import('./rule-parts.js').Part} props */
export function LimitsPart({ w, set, wrong }) {
  const change = (/** @type {number} */ i, /** @type {Partial<LimitWritten>} */ some) => set({ limits: w.limits.map((one, j) => (j === i ? { ...one, ...some } : one)) });
  return html`${w.limits.map((one, i) => html`<div class="answer-row" key=${i} data-limit=${i}><${LimitIn} l=${one} id=${`limits${i}`} set=${(/** @type {Partial<LimitWritten>} */ some) => change(i, some)} wrong=${wrong} /></div>`)}
    ${w.limits.length > 1 && html`<p class="soft">${ruleForm.rule.empty}</p>`}
    <${More} on=${w.limits.length < MOST} n=${w.limits.length} add=${() => set({ limits: [...w.limits, newLimit()] })} less=${() => set({ limits: w.limits.slice(0, -1) })} />`;
}

/** @param {{l: LimitWritten, id: string, set: (some: Partial<LimitWritten>) => void, wrong: Record<string, string>}} props */
function LimitIn({ l, id, set, wrong }) {
  const t = ruleForm.limit;
  const units = WRITTEN_IN[l.unit].filter(([name]) => name);
  const into = (/** @type {string} */ name) => (/** @type {any} */ is) => set({ [name]: is });
  const unit = (/** @type {string} */ is) => set({ unit: is, as: WRITTEN_IN[is][0][0], ...(is === 'g' ? { weighed: 'wet' } : { weighed: '' }) });
  return html`<div class="triple"><${TextIn} id=${`${id}-most`} label=${t.most} mode="decimal" value=${l.most} set=${into('most')} wrong=${wrong[`${id}-most`]} />
      <${PickIn} id=${`${id}-unit`} label=${t.unit} value=${l.unit} set=${unit} options=${Object.entries(t.units)} />
      ${units.length > 1 && html`<${PickIn} id=${`${id}-as`} label=${t.as} value=${l.as} set=${into('as')} options=${units.map(([name]) => /** @type {[string, string]} */ ([name, name]))} />`}</div>
    ${l.unit === 'g' && html`<${PickIn} id=${`${id}-weighed`} label=${t.weighed} value=${l.weighed} set=${into('weighed')} options=${Object.entries(ruleForm.weighed)} />`}
    <div class="pair"><${PickIn} id=${`${id}-base`} label=${t.base} value=${l.base} set=${into('base')} options=${Object.entries(t.bases)} />
      <${PickIn} id=${`${id}-per`} label=${t.per} value=${l.per} set=${into('per')} options=${Object.entries(t.pers)} /></div>
    ${l.per === 'days' && html`<${TextIn} id=${`${id}-days`} label=${t.days} mode="numeric" value=${l.days} set=${into('days')} wrong=${wrong[`${id}-days`]} />`}
    <details class="more" open=${l.each || l.keepFirst || l.putBackFree || l.who !== ''}><summary>${ruleForm.moreOfLimit}</summary>
      ${l.base === 'person' && html`<${PickIn} id=${`${id}-who`} label=${t.who} value=${l.who} set=${into('who')} options=${Object.entries(t.whos)} />`}
      <${Tick} name=${`${id}-keepFirst`} label=${t.keepFirst} checked=${l.keepFirst} set=${into('keepFirst')} />
      ${!l.keepFirst && html`<${Tick} name=${`${id}-putBackFree`} label=${t.putBackFree} checked=${l.putBackFree} set=${into('putBackFree')} />`}
      <${Tick} name=${`${id}-each`} label=${t.each} checked=${l.each} set=${into('each')} /></details>
    ${l.or && html`<div class="kept-parts"><p>${ruleForm.keptParts}</p><p>${inWords({ of: { all: true }, limits: [{ most: 0, unit: l.unit, base: l.base, per: 'day', or: l.or }] }).says[0].split('. ').pop()}</p></div>`}`;
}
