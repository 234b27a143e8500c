// From quarantine to a display: which one fits, what stands against it, or the jar that
// becomes the display itself. Nothing is offered before the core has said that the wait is done.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { write } from '../../data/book.js';
import { go } from '../route.js';
import { observer } from './check-who.js';
import { cautionWords } from './companions-page.js';
import { ask, current, fresh, may, nameOf, picture, systemOf, tanks, writeEvent } from './picture-state.js';
import { missingWords } from './specimen-missing.js';
import { Reckoned } from './system-reckoned.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @typedef {import('./specimen-page.js').Specimen} Specimen */
/** @typedef {{specimen: string, tank: string, missing: string[], cautions: {who: string, whom: string, how: string, from: string}[], gap: number | null, gapC: number | null}} Fit */

/** @param {{one: Specimen}} props */
export function ClearPage({ one }) {
  const t = text.clear;
  const fits = useSignal(/** @type {Fit[] | undefined} */ (undefined));
  const wrong = useSignal('');
  const chosen = useSignal('');
  const busy = useSignal(false);
  const { state } = one;
  const displays = tanks.value.filter(({ use }) => use === 'display');
  const at = picture.value?.atMs;
  useEffect(() => {
    if (!state?.may) return;
    ask({ fits: displays.map(({ id }) => ({ specimen: one.id, tank: id })) })
      .then((answer) => (fits.value = answer.fits), (error) => (wrong.value = error.message));
  }, [at, state?.may]);
  if (!state) return html`<${Reckoned} />`;
  const system = state.system ? systemOf(state.system) : undefined;
  if (!state.may || !current.value) {
    return html`<${Reckoned} /><p class="heed" data-cannot>${t.notYet}</p><ul class="points">${missingWords(state, system?.state).map((line) => html`<li>${line}</li>`)}</ul>`;
  }
  const clear = async () => {
    const here = chosen.value === 'here';
    // What was chosen may have ceased to fit since.
    if (busy.value || !(here ? late.length === 0 : fits.value?.some(({ tank, missing }) => tank === chosen.value && missing.length === 0))) return;
    busy.value = true;
    if (!(await still(one.id, here ? '' : chosen.value))) {
      busy.value = false;
      wrong.value = t.changed;
      return announce(wrong.value);
    }
    const { kept } = here ? await writeEvent('graduated', { of: system?.ref, by: observer.peek() }) : await writeEvent('cleared', { of: `specimen/${one.id}`, by: observer.peek(), tank: chosen.value });
    if (kept && here) for (const id of system?.state?.tanks ?? []) await write('tank', id, { use: 'display' });
    announce(kept ? t.done(nameOf(`specimen/${one.id}`)) : text.unkept);
    busy.value = false;
    if (kept) go(`/tanks/specimen/${one.id}`);
  };
  const mates = (picture.value?.specimens ?? []).filter(({ id }) => system?.state?.residents.includes(id));
  // All of them would be cleared together.
  const late = mates.filter((mate) => !mate.may && !mate.cleared);
  return html`<${Reckoned} />${state.overruled ? html`<p class="heed" data-overruled>${text.specimen.mayOver} ${text.overrule.missing}</p><ul class="points">${missingWords(state, system?.state).map((line) => html`<li>${line}</li>`)}</ul>` : html`<p>${text.doneSince}</p>`}
    ${wrong.value && html`<p class="heed" role="alert">${wrong.value}</p>`}
    <fieldset class="field fits" data-fits=${fits.value ? fits.value.length : 'coming'}><legend>${t.choose}</legend>
      ${displays.length === 0 && html`<p>${t.noDisplay}</p>`}
      ${!fits.value && displays.length > 0 && !wrong.value && html`<p class="soft" role="status">${t.coming}</p>`}
      ${fits.value?.map((fit) => html`<${FitRow} key=${fit.tank} fit=${fit} chosen=${chosen} />`)}
      ${late.length > 0 ? html`<div class="fit" data-fit="late"><p><strong>${t.here(system?.name ?? '')}</strong> <span class="overdue">${t.fitsNot}</span></p><p>${t.hereLate(text.and(late.map(({ id }) => nameOf(`specimen/${id}`))))}</p></div>`
        : html`<label class="option" data-fit="here"><input type="radio" name="display" value="here" checked=${chosen.value === 'here'} onChange=${() => (chosen.value = 'here')} />
          <span><strong>${t.here(system?.name ?? '')}</strong><span class="soft">${t.hereWhat}${mates.length > 1 ? ` ${t.hereAll(mates.length)}` : ''}</span></span></label>`}
    </fieldset>
    ${may.value.decide && html`<button type="button" class="main" data-do="clear" aria-disabled=${!chosen.value || busy.value} onClick=${clear}>${!chosen.value ? t.chooseFirst : t.do}</button>`}
    ${!state.overruled && html`<p class="soft">${t.words}</p>`}`;
}

/**
 * Whether a specimen may go, and fits, by all that is noted by now.
 * @param {string} id
 * @param {string} display '' where it stays, and all with it become residents
 * @returns {Promise<boolean>} false where nobody knows
 */
async function still(id, display) {
  const now = await fresh();
  const its = now?.specimens.find((one) => one.id === id);
  if (!its?.may) return false;
  if (!display) return now?.specimens.every(({ system, gone, may: can, cleared }) => system !== its.system || gone || can || cleared) ?? false;
  try {
    return (await ask({ fits: [{ specimen: id, tank: display }] })).fits[0].missing.length === 0;
  } catch {
    return false;
  }
}

/** @param {{fit: Fit, chosen: import('@preact/signals').Signal<string>}} props */
function FitRow({ fit, chosen }) {
  const t = text.clear;
  const fine = fit.missing.length === 0;
  const name = nameOf(`tank/${fit.tank}`);
  const read = fit.missing.some((word) => word.endsWith('reading'));
  return html`<div class="fit" data-fit=${fit.tank} data-missing=${fit.missing.join(', ')}>
    ${fine ? html`<label class="option"><input type="radio" name="display" value=${fit.tank} checked=${chosen.value === fit.tank} onChange=${() => (chosen.value = fit.tank)} /> <span><strong>${name}</strong><span class="soft">${t.fits}</span></span></label>`
      : html`<p><strong>${name}</strong> <span class="overdue">${t.fitsNot}</span></p><ul class="points">${fit.missing.map((word) => html`<li>${gapWords(word, fit)}</li>`)}</ul>
        ${read && html`<p class="doing"><${Link} class="button" to=${`/tanks/reading/tank/${fit.tank}`}>${t.readIt(name)}<//></p>`}`}
    ${fit.cautions.length > 0 && html`<ul class="cautions">${fit.cautions.map((one) => html`<li><strong>${cautionWords(one)}</strong> <span class="soft">${one.from}</span></li>`)}</ul><p class="soft">${t.cautionWhat}</p>`}
  </div>`;
}

/** @param {string} word @param {Fit} fit */
function gapWords(word, fit) {
  const t = text.clear.missing;
  if (word === 'salinity' && fit.gap !== null) return t.salinityBy(Math.abs(fit.gap).toFixed(1), fit.gap > 0);
  if (word === 'temperature' && fit.gapC !== null) return t.temperatureBy(Math.abs(fit.gapC).toFixed(1), fit.gapC > 0);
  return /** @type {Record<string, any>} */ (t)[word] ?? word;
}
