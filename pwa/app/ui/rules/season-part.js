// "Are there closed months, or open ones?": whole months or dates, more than one span.

import { html } from '../parts/html.js';
import { MONTHS } from './days.js';
import { More, Radios, Tick } from './inputs.js';
import { newSpan } from './rule-fields.js';
import { ruleForm } from '../../text/en-rule-form.js';

/** @typedef {import('./rule-fields.js').SpanWritten} SpanWritten */

const MOST = 40;

/** @param {import('./rule-parts.js').Part} props */
export function SeasonPart({ w, set, wrong }) {
  const t = ruleForm.season;
  const { is, spans } = w.season;
  const change = (/** @type {number} */ i, /** @type {Partial<SpanWritten>} */ some) => set({ season: { is, spans: spans.map((one, j) => (j === i ? { ...one, ...some } : one)) } });
  return html`<${Radios} name="season" legend=${t.is} value=${is} set=${(/** @type {any} */ now) => set({ season: { is: now, spans } })} options=${Object.entries(t.ises)} />
    ${spans.map((span, i) => html`<div class="answer-row" key=${i} data-span=${i}>
      <${Radios} name=${`season${i}-how`} legend=${t.how} value=${span.how} set=${(/** @type {any} */ how) => change(i, { how })} options=${Object.entries(t.hows)} />
      ${span.how === 'months' ? html`<fieldset class="field" id=${`season${i}-months`} tabindex="-1" aria-invalid=${Boolean(wrong[`season${i}-months`])} aria-describedby=${`season${i}-months-wrong`}><legend class="unseen">${t.months}</legend><div class="ticks by-month">
          ${MONTHS.map((name, n) => html`<${Tick} key=${name} name=${`season${i}-${n + 1}`} label=${name} checked=${span.months.includes(n + 1)}
            set=${(/** @type {boolean} */ on) => change(i, { months: on ? [...span.months, n + 1] : span.months.filter((one) => one !== n + 1) })} />`)}</div>
          <p class="wrong" id=${`season${i}-months-wrong`}>${wrong[`season${i}-months`]}</p></fieldset>`
        : html`<${DayOfYear} id=${`season${i}-from`} legend=${t.from} value=${span.from} set=${(/** @type {string} */ from) => change(i, { from })} wrong=${wrong[`season${i}-from`]} />
          <${DayOfYear} id=${`season${i}-to`} legend=${t.to} value=${span.to} set=${(/** @type {string} */ to) => change(i, { to })} wrong=${wrong[`season${i}-to`]} />`}</div>`)}
    <${More} on=${spans.length < MOST} n=${spans.length} add=${() => set({ season: { is, spans: [...spans, newSpan()] } })} less=${() => set({ season: { is, spans: spans.slice(0, -1) } })} />`;
}

const two = (/** @type {number} */ n) => String(n).padStart(2, '0');

/** @param {{id: string, legend: string, value: string, set: (is: string) => void, wrong?: string}} props value: "04-01", either part "00" or '' while it is not chosen */
function DayOfYear({ id, legend, value, set, wrong }) {
  const t = ruleForm.season;
  const [month = '', day = ''] = value.split('-');
  const pick = (/** @type {string} */ m, /** @type {string} */ d) => set(`${m || '00'}-${d || '00'}`);
  return html`<fieldset class="field"><legend>${legend}</legend><div class="pair">
      <select id=${id} aria-label=${`${legend}: ${t.day}`} value=${day} aria-invalid=${Boolean(wrong)} aria-describedby=${`${id}-wrong`} onChange=${(/** @type {any} */ e) => pick(month, e.target.value)}>
        <option value="00">${t.day}</option>${Array.from({ length: 31 }, (_, i) => two(i + 1)).map((is) => html`<option key=${is} value=${is} selected=${is === day}>${Number(is)}</option>`)}</select>
      <select id=${`${id}-month`} aria-label=${`${legend}: ${t.month}`} value=${month} onChange=${(/** @type {any} */ e) => pick(e.target.value, day)}>
        <option value="00">${t.month}</option>${MONTHS.map((name, i) => html`<option key=${name} value=${two(i + 1)} selected=${two(i + 1) === month}>${name}</option>`)}</select></div>
    <p class="wrong" id=${`${id}-wrong`}>${wrong}</p></fieldset>`;
}
