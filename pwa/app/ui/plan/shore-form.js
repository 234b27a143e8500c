// The form of a shore: a station first, then what the household knows of the shore.

import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Field } from '../parts/field.js';
import { announce } from '../parts/announce.js';
import { addDays } from '../parts/when.js';
import { uuidv7 } from '../../data/ids.js';
import { call } from '../../core.js';
import { StationPick } from './station-pick.js';
import { StationLine } from './station-line.js';
import { CautionList } from './station-cautions.js';
import { FindHeight } from './find-height.js';
import { openDraft } from './shore-draft.js';
import { number, read } from './shore-fields.js';
import { save as saveShore, select, shoreRequest, today } from './shore-state.js';
import { lies } from '../../data/place.js';
import { text } from '../../text/en.js';

/** @typedef {import('./shore-state.js').Shore} Shore */

/** Saving asks the core whether the shore can be reckoned, and waits no longer than this. */
const CHECK_MS = 3000;
const CHECK_DAYS = 365;

/** Fields behind the disclosure. */
const MORE = ['margin', 'travel', 'swellLimit', 'markerWhat', 'markerHeight', 'wayIn', 'wayOut', 'highMinutes', 'lowMinutes', 'highMetres', 'lowMetres', 'lat', 'lon', 'zone'];

/**
 * @param {{from?: Shore, done: () => void, cancel?: () => void}} props from is the shore to change
 */
export function ShoreForm({ from, done, cancel }) {
  const t = text.form;
  const draft = useMemo(() => openDraft(from), [from?.id]);
  const { fields, station } = draft;
  const choosing = useSignal(false);
  const moreOpen = useSignal(false);
  const checking = useSignal(false);
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  useEffect(() => () => void draft.end(false), [draft]);

  /** @param {any} picked @param {import('../../data/place.js').Point} [near] */
  const pick = (picked, near) => {
    if (near) {
      fields.lat.value = near.lat.toFixed(4);
      fields.lon.value = near.lon.toFixed(4);
    }
    // The marker rock's height counts from the station's datum.
    if (picked.id !== station.peek()?.id) fields.markerHeight.value = '';
    station.value = picked;
    fields.zone.value = picked.zone;
    choosing.value = false;
    wrong.value = {};
    announce(`${t.station}: ${picked.name}`);
    requestAnimationFrame(() => document.getElementById('chosen')?.focus());
  };

  /** @param {Record<string, string>} list */
  const complain = (list) => {
    wrong.value = list;
    if (MORE.some((field) => list[field])) moreOpen.value = true;
    // In the order of the page, once the words stand there.
    requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector('form [aria-invalid="true"], form #form-wrong:not(:empty)'))?.focus());
  };

  /** @param {Event} event */
  const save = async (event) => {
    event.preventDefault();
    if (checking.value) return;
    const here = location.pathname;
    const { shore, wrong: list } = read(draft.written(), station.value, from?.id ?? uuidv7(), from);
    if (!shore) return complain(list);
    checking.value = true;
    const refusal = await checked(shore);
    if (refusal) {
      checking.value = false;
      return complain({ [refusal.field in fields ? refusal.field : 'form']: refusal.message });
    }
    await saveShore(shore, from);
    await select(shore.id);
    await draft.end(true);
    if (location.pathname === here) done(); // else the person went on meanwhile
  };

  const s = station.value;
  if (!s || choosing.value) {
    return html`<section class="choose" aria-labelledby="choose">
      <h2 id="choose">${text.chooser.title}</h2>
      <p>${text.chooser.intro}</p>
      <${StationPick} pick=${pick} wrong=${wrong.value.station} />
      ${s ? html`<button type="button" class="quiet" onClick=${() => (choosing.value = false)}>${t.keepStation}</button>`
      : cancel && html`<button type="button" class="quiet" data-do="cancel" onClick=${cancel}>${t.cancel}</button>`}
    </section>`;
  }

  const position = { lat: number(fields.lat.value), lon: number(fields.lon.value) };
  const own = position.lat !== undefined && position.lon !== undefined ? /** @type {import('../../data/place.js').Point} */ (position) : undefined;
  const heightDraft = { station: s.id, zone: s.zone, differences: differencesOf(fields), ...(own ?? {}) };
  /** @param {string} height */
  const take = (height) => {
    fields.below.value = height;
    document.getElementById('below')?.focus();
  };
  /**
   * @param {import('./shore-fields.js').Field} id
   * @param {'decimal' | 'numeric' | 'text'} mode
   * @param {string} label
   * @param {string} [hint]
   * @param {number} [lines]
   */
  const field = (id, mode, label, hint, lines) =>
    html`<${Field} id=${id} label=${label} hint=${hint} value=${fields[id]} mode=${mode} wrong=${wrong.value[id]} lines=${lines} />`;

  return html`<form onSubmit=${save} novalidate>
    ${draft.found.value && html`<p class="soft" data-draft>${t.draft}</p>`}
    <section class="chosen" data-chosen=${s.id} aria-labelledby="chosen">
      <h2 id="chosen" tabindex="-1">${t.station}</h2>
      <p class="station-line"><${StationLine} station=${own && !s.stub ? { ...s, ...lies(own, s) } : s} /></p>
      ${s.cautions?.length > 0 && html`<${CautionList} cautions=${s.cautions} />`}
      <button type="button" class="quiet" data-do="other" onClick=${() => (choosing.value = true)}>${t.otherStation}</button>
    </section>
    ${from && s.id !== from.station && html`<p class="heed" data-changed>${t.changedStation}</p>`}
    ${from && s.id === from.station && from.release !== CATALOGUE_RELEASE && html`<p class="heed" data-changed>${t.changedRelease}</p>`}
    ${field('name', 'text', t.name, t.nameHint)}
    ${field('below', 'text', t.below, t.belowHint(s.datum))}
    <${FindHeight} draft=${heightDraft} below=${number(fields.below.value)} take=${take} />
    ${field('wayOff', 'text', t.wayOff, t.wayOffHint)}
    <fieldset class="field" aria-describedby="cutOff-why">
      <legend>${t.cutOff}</legend>
      <p id="cutOff-why" class="soft">${t.cutOffWhy}</p>
      ${['yes', 'no'].map((is) => html`<label class="check"><input type="radio" name="cutOff" value=${is} checked=${fields.cutOff.value === is}
        onChange=${() => (fields.cutOff.value = is)} /> ${is === 'yes' ? t.yes : t.no}</label>`)}
    </fieldset>
    ${field('escape', 'text', t.escape, t.escapeHint, 2)}
    ${field('walkOut', 'numeric', t.walkOut, t.walkOutHint)}
    <details class="more" open=${moreOpen.value} onToggle=${(/** @type {any} */ e) => (moreOpen.value = e.currentTarget.open)}>
      <summary>${t.more}</summary>
      <div class="pair">
        ${field('margin', 'numeric', t.margin, t.marginHint)}
        ${field('travel', 'numeric', t.travel, t.travelHint)}
      </div>
      ${field('swellLimit', 'decimal', t.swell, t.swellHint)}
      <fieldset class="field"><legend>${t.marker}</legend><p class="soft">${t.markerWhy}</p>
        ${field('markerWhat', 'text', t.markerWhat)}
        ${field('markerHeight', 'text', t.markerHeight)}
      </fieldset>
      <fieldset class="field" aria-describedby="night-why">
        <legend>${t.night}</legend>
        <p id="night-why" class="soft">${t.nightWhy}</p>
        ${Object.entries(t.nights).map(([is, words]) => html`<label class="check"><input type="radio" name="night" value=${is} checked=${fields.night.value === is}
          onChange=${() => (fields.night.value = is)} /> ${words}</label>`)}
      </fieldset>
      ${field('wayIn', 'text', t.wayIn, undefined, 3)}
      ${field('wayOut', 'text', t.wayOut, undefined, 3)}
      <fieldset class="field"><legend>${t.differences}</legend><p class="soft">${t.differencesWhy} ${t.differencesHint}</p>
        <div class="pair">
          ${field('highMinutes', 'text', t.highMinutes)}
          ${field('highMetres', 'text', t.highMetres)}
          ${field('lowMinutes', 'text', t.lowMinutes)}
          ${field('lowMetres', 'text', t.lowMetres)}
        </div></fieldset>
      <fieldset class="field"><legend>${t.place}</legend><p class="soft">${t.placeHint} ${text.chooser.positionHint}</p>
        <div class="pair">
          ${field('lat', 'text', text.chooser.lat)}
          ${field('lon', 'text', text.chooser.lon)}
        </div></fieldset>
      ${field('zone', 'text', t.zone, t.zoneHint)}
    </details>
    <p id="form-wrong" class="wrong" tabindex="-1">${wrong.value.form}</p>
    <div class="actions">
      ${cancel && html`<button type="button" class="quiet" data-do="cancel" onClick=${async () => { await draft.end(true); cancel(); }}>${t.cancel}</button>`}
      <button type="submit" class="main" aria-disabled=${checking.value}>${checking.value ? t.checking : t.save}</button>
    </div>
  </form>`;
}

/**
 * What the core has against a shore: differences that make its waters cross, a station that
 * cannot be reckoned. Undefined if nothing, or if it does not answer in time: a shore is
 * saved without it, and Plan then says what is wrong.
 * @param {Shore} shore
 * @returns {Promise<import('../../core.js').CoreError | undefined>}
 */
function checked(shore) {
  const from = today(shore);
  const asked = call('levels', { shore: shoreRequest(shore), from, to: addDays(from, CHECK_DAYS), light: 'sun', levels: [shore.below] });
  return Promise.race([
    asked.then(() => undefined, (error) => (REFUSALS.includes(error.code) ? error : undefined)),
    new Promise((resolve) => setTimeout(resolve, CHECK_MS)),
  ]);
}

/** What is wrong with a shore and not with the phone. */
const REFUSALS = ['bad_input', 'unknown_station', 'unknown_zone', 'no_distinct_tide', 'waters_cross', 'no_datum'];

/**
 * The differences as far as they are written right.
 * @param {import('./shore-draft.js').Draft['fields']} fields
 */
function differencesOf({ highMinutes, lowMinutes, highMetres, lowMetres }) {
  const [hm, lm, hh, lh] = [highMinutes, lowMinutes, highMetres, lowMetres].map((f) => number(f.value) ?? 0);
  if (!hm && !lm && !hh && !lh) return null;
  return { minutes: /** @type {[number, number]} */ ([hm, lm]), heights: /** @type {[number, number]} */ ([hh, lh]), heightsAre: /** @type {const} */ ('metres') };
}
