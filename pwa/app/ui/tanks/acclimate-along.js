// What was noted and read while an acclimation runs.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Field } from '../parts/field.js';
import { Link } from '../parts/link.js';
import { dayAndClock } from '../parts/when.js';
import { noteAlong } from './acclimate-runs.js';
import { may, nameOf, readings, zone } from './picture-state.js';
import { KINDS } from './reading-kinds.js';
import { numberOf, words } from './tank-ranges.js';
import { estimate } from './tank-salinities.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.run;
const MOST = 300;

/** @param {{run: import('./acclimate-runs.js').Run}} props */
export function AcclimateAlong({ run }) {
  const typed = useSignal('');
  const wrong = useSignal('');
  const names = new Set(run.specimens.map((id) => `specimen/${id}`));
  const read = readings.value.filter(({ sample }) => sample && names.has(sample.of) && Date.parse(sample.at) >= Date.parse(run.at) && (!run.ended || Date.parse(sample.at) <= Date.parse(run.ended)));
  const list = [...run.notes.map((one) => ({ at: one.at, words: one.what, by: one.by })), ...read.map((one) => ({ at: one.sample.at, words: said(one), by: one.sample.by }))].sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
  const note = async (/** @type {Event} */ event) => {
    event.preventDefault();
    const what = typed.value.trim();
    wrong.value = !what ? t.needNote : Array.from(what).length > MOST ? all.wrong.long(MOST) : '';
    if (wrong.value) return document.getElementById('along')?.focus();
    const kept = await noteAlong(run, what);
    if (!kept) return void (wrong.value = all.unkept);
    typed.value = '';
    announce(t.noted);
  };
  return html`<section class="along" aria-labelledby="along-title"><h2 id="along-title">${t.along}</h2>
    ${!run.ended && may.value.note && html`<form class="along" onSubmit=${note} novalidate><${Field} id="along" label=${t.note} hint=${t.noteHint} value=${typed} mode="text" wrong=${wrong.value} />
      <div class="tank-do"><button type="submit" data-do="note">${t.keepNote}</button><${Link} class="button" to=${`/tanks/reading/specimen/${run.specimens[0]}`}>${t.readBag}<//></div></form>`}
    ${list.length === 0 ? html`<p class="soft">${t.nothing}</p>` : html`<ul class="log" data-notes=${list.length}>${list.map((one) => html`<li><p><span class="soft">${dayAndClock(one.at, zone.value)}${one.by ? ` · ${nameOf(`member/${one.by}`)}` : ''}</span> ${one.words}</p></li>`)}</ul>`}
  </section>`;
}

/** @param {Record<string, any>} reading */
function said(reading) {
  return KINDS.flatMap((kind) => {
    const value = reading[kind];
    if (value === undefined || value === null) return [];
    const is = kind === 'salinity' ? estimate(value)?.salinity : numberOf(kind, value);
    return is === undefined ? [] : [`${all.kinds[kind]} ${words(kind, is, value.unit)}`];
  }).join(', ');
}
