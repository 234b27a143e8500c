// Who eats, stings, overgrows or starves whom among those who live together: a caution and no
// ban, by the core's list.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { UNSURE, recallKinds } from '../parts/kinds.js';
import { Page } from '../house/page.js';
import { ask, nameOf, picture, specimenOf, tanks } from './picture-state.js';
import { fate } from '../../text/en-tank-fate.js';
import { tanks as words } from '../../text/en-tanks.js';

/** @typedef {{who: string, whom: string, how: string, from: string}} Caution */

/** @param {Caution} caution "Pinch may eat Old Tom" */
export function cautionWords({ who, how, whom }) {
  const t = fate.companions;
  return t.line(nameOf(`specimen/${who}`), t.how[/** @type {keyof typeof t.how} */ (how)] ?? how, nameOf(`specimen/${whom}`));
}

/** As internal/core has it. */
const MOST_FITS = 200;

/** @param {{of: string[]}} props kind and id of a system, or nothing */
export function CompanionsPage({ of: [kind, id] }) {
  const t = fate.companions;
  const chosen = useSignal(kind && id ? `${kind}/${id}` : '');
  useEffect(() => void recallKinds(), []);
  const now = picture.value;
  const list = now?.systems.filter(({ residents }) => residents.length > 0) ?? [];
  const system = list.find(({ key, tanks: within }) => key === chosen.value || within.some((one) => `tank/${one}` === chosen.value)) ?? list[0];
  const pairs = system?.residents.flatMap((one) => { const tank = specimenOf(one)?.state?.tank; return tank ? [{ specimen: one, tank }] : []; }) ?? [];
  return html`<${Page} title=${t.title} to="/tanks" back=${words.title}>
    <p>${t.why}</p>
    ${!now ? html`<p role="status" data-companions="not-reckoned">${t.notReckoned}</p>` : !system ? html`<p>${t.none_}</p>` : html`
      <div class="field"><label for="system">${t.where}</label><select id="system" value=${system.key} onChange=${(/** @type {any} */ e) => (chosen.value = e.target.value)}>
        ${list.map(({ key }) => html`<option value=${key} selected=${key === system.key}>${nameOf(key)}</option>`)}</select></div>
      ${system.residents.length < 2 ? html`<p data-companions="alone">${t.alone}</p>` : html`<${Cautions} key=${system.key} pairs=${pairs.slice(0, MOST_FITS)} none=${t.none} among=${system.residents} />`}
      <${WhatIf} />`}
  <//>`;
}

/** Would one of them go together with those in another tank? */
function WhatIf() {
  const t = fate.companions;
  const who = useSignal('');
  const into = useSignal('');
  const living = picture.value?.specimens.filter(({ gone, tank }) => !gone && tank) ?? [];
  const others = tanks.value.filter(({ id }) => specimenOf(who.value)?.state?.tank !== id);
  const pick = (/** @type {string} */ id, /** @type {string} */ label, /** @type {import('@preact/signals').Signal<string>} */ of, /** @type {[string, string][]} */ options) => html`<div class="field"><label for=${id}>${label}</label>
    <select id=${id} value=${of.value} onChange=${(/** @type {any} */ e) => (of.value = e.target.value)}><option value="">…</option>${options.map(([is, name]) => html`<option value=${is} selected=${is === of.value}>${name}</option>`)}</select></div>`;
  const target = picture.value?.systems.find((one) => one.tanks.includes(into.value));
  return html`<section class="what-if"><h2>${t.whatIf}</h2>
    <div class="pair">${pick('who', t.who, who, living.map(({ id }) => [id, nameOf(`specimen/${id}`)]))}${pick('into', t.into, into, others.map(({ id }) => [id, nameOf(`tank/${id}`)]))}</div>
    ${who.value && into.value && html`<${Cautions} key=${`${who.value} ${into.value}`} pairs=${[{ specimen: who.value, tank: into.value }]} none=${t.whatIfNone} among=${[who.value, ...(target?.residents ?? [])]} />`}
  </section>`;
}

/** @param {{pairs: {specimen: string, tank: string}[], none: string, among: string[]}} props */
function Cautions({ pairs, none, among }) {
  const t = fate.companions;
  const found = useSignal(/** @type {Caution[] | undefined} */ (undefined));
  const failed = useSignal('');
  const at = picture.value?.atMs;
  useEffect(() => {
    let wanted = true;
    ask({ fits: pairs }).then(({ fits }) => {
      if (!wanted) return;
      const seen = new Map();
      for (const { cautions } of fits) for (const one of cautions) seen.set(`${one.who} ${one.how} ${one.whom}`, one);
      found.value = [...seen.values()];
      failed.value = '';
    }, (error) => wanted && (failed.value = error.message));
    return () => void (wanted = false);
  }, [at]);
  if (failed.value) return html`<p class="heed" role="alert" data-companions="failed">${t.failed} ${failed.value}</p>`;
  if (!found.value) return html`<p role="status" data-companions="coming">${t.notReckoned}</p>`;
  const unnamed = among.filter((id) => (specimenOf(id)?.taxon ?? UNSURE) === UNSURE).map((id) => nameOf(`specimen/${id}`));
  return html`<div class="companions" data-companions=${found.value.length}>
    ${found.value.length === 0 ? html`<p>${none}</p>` : html`<ul class="caution-rows">${found.value.map((one) => html`<li key=${one.who + one.how + one.whom} data-how=${one.how}>
      <strong>${cautionWords(one)}</strong> <span class="soft">${one.from}</span></li>`)}</ul>`}
    ${unnamed.length > 0 && html`<p>${t.unsure(unnamed)}</p>`}
  </div>`;
}
