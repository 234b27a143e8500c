// What a set says, rule by rule, in plain sentences.

import { html } from '../parts/html.js';
import { called, taxonNamed } from '../parts/kinds.js';
import { monthDay } from './days.js';
import { inWords, whereWords } from './rule-words.js';
import { rules as t } from '../../text/en-rules.js';

/**
 * "sea lettuce (Ulva lactuca)", or the name as it is written.
 * @param {string} taxon
 */
export const kindWords = (taxon) => (taxonNamed(taxon)?.common ? `${called(taxon)} (${taxon})` : taxon);

/** @param {{name: string, rule: any, children?: any}} props */
export function RuleSays({ name, rule, children }) {
  const { of, says } = inWords(rule, kindWords);
  return html`<section class="rule-says" data-rule=${name}><h3>${name}</h3>
    ${of.toLowerCase() !== name.toLowerCase() && html`<p><strong>${of}</strong></p>`}
    <ul class="points">${says.map((line) => html`<li key=${line}>${line}</li>`)}</ul>${children}</section>`;
}

/** @param {{rules: [string, any][]}} props */
export const SaysList = ({ rules }) => html`<div class="says-list">${rules.map(([name, rule]) => html`<${RuleSays} key=${name} name=${name} rule=${rule} />`)}</div>`;

/** @param {Record<string, any>} document */
export const sourceWords = ({ source, sourceDate }) => t.set.of(source, sourceDate ? monthDay(sourceDate) : '');

/**
 * What a set says of itself, beside its rules.
 * @param {{document: Record<string, any>, children?: any}} props
 */
export function SetFacts({ document: d, children }) {
  const s = t.set;
  const otherwise = d.otherwise ?? (d.layer === 'closure' || d.layer === 'household' ? 'others' : 'unchecked');
  const purposes = d.purposes?.map((/** @type {string} */ one) => s.purpose[one]).join(', ') ?? (d.layer === 'closure' || d.layer === 'household' ? s.everyone : s.usual);
  return html`<dl class="facts set-facts">
    <dt>${s.authority}</dt><dd>${d.authority} <span class="soft">${t.layers[d.layer]}</span></dd>
    <dt>${s.ask}</dt><dd>${d.ask}</dd>
    <dt>${s.source}</dt><dd>${sourceWords(d)}</dd>
    ${(d.from || d.to) && html`<dt>${s.from}</dt><dd>${s.span(d.from && monthDay(d.from), d.to && monthDay(d.to))}</dd>`}
    <dt>${s.place}</dt><dd>${[d.area?.place, ...whereWords({ except: d.area?.except, strip: d.area?.strip })].filter(Boolean).join('. ')}</dd>
    ${children}
    <dt>${s.purposes}</dt><dd>${purposes}</dd>
    <dt>${s.otherwise}</dt><dd>${s.otherwises[otherwise]}</dd>
    ${d.note && html`<dt>${s.note}</dt><dd>${d.note}</dd>`}
  </dl>`;
}
