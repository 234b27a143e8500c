// Handing a part of a lot, or all of it, on to a friend or a class: refused with its reasons,
// or noted so that it can be called back.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { recallKinds } from '../parts/kinds.js';
import { dayName } from '../parts/when.js';
import { Page } from '../house/page.js';
import { recallShores } from '../plan/shore-state.js';
import { lotCode, lineOf } from './label-facts.js';
import { HandOnForm } from './hand-on-form.js';
import { originOf } from './hand-on-trace.js';
import { takeBack } from './hand-on-write.js';
import { events, may, nameOf, picture, read, specimenOf, specimens } from './picture-state.js';
import { Reckoned } from './system-reckoned.js';
import { fate } from '../../text/en-tank-fate.js';
import { paper } from '../../text/en-tank-paper.js';
import { tanks as words } from '../../text/en-tanks.js';

/** @typedef {import('./hand-on-write.js').Given} Given */

/** @param {{of: string[]}} props id of the specimen */
export function HandOnPage({ of: [id] }) {
  const t = fate.handOn;
  const given = useSignal(/** @type {Given | undefined} */ (undefined));
  const says = useSignal('');
  useEffect(() => {
    recallKinds();
    recallShores();
  }, []);
  const one = specimenOf(id ?? '');
  if (!one) return html`<${Page} title=${t.title} to="/tanks" back=${words.title}><p>${read.value ? paper.gone : '…'}</p><//>`;
  const name = nameOf(`specimen/${one.id}`);
  const done = async (/** @type {Given} */ made) => {
    given.value = made;
    says.value = '';
    requestAnimationFrame(() => document.getElementById('handed')?.focus());
  };
  const undo = async () => {
    if (given.value && !(await takeBack(given.value))) return void (says.value = paper.unkept);
    given.value = undefined;
    says.value = t.undone;
    requestAnimationFrame(() => document.getElementById('page')?.focus());
  };
  const state = one.state;
  const reasons = state?.gone ? ['gone'] : state?.handOn ?? [];
  return html`<${Page} title=${t.of(name)} to=${`/tanks/specimen/${one.id}`} back=${name}>
    <p class="fate-says" role="status">${says.value}</p>
    ${given.value ? html`<${Done} given=${given.value} undo=${undo} more=${!given.value.whole && (() => (given.value = undefined))} />`
      : !may.value.decide ? html`<p>${paper.notYours}</p>`
      : !state || !picture.value ? html`<p class="heed" data-hand-on="not-reckoned">${t.notReckoned}</p><${Reckoned} />`
      : reasons.length > 0 ? html`<section class="refused" data-hand-on="refused"><h2>${t.refused}</h2>
          <ul class="points">${reasons.map((word) => html`<li key=${word} data-reason=${word}>${t.reasons[word] ?? t.otherReason(word)}</li>`)}</ul></section>
          <p class="doing"><${Link} class="button" to=${`/tanks/disposal/${one.id}`}>${t.disposal}<//></p>`
      : html`<p>${t.why}</p><${HandOnForm} one=${one} name=${name} done=${done} />`}
    <${Trace} id=${one.id} />
  <//>`;
}

/** @param {{id: string}} props */
export function Trace({ id }) {
  const t = fate.handOn;
  const origin = originOf(id);
  const line = lineOf(id, specimens.value, events.value);
  return html`<section class="trace" data-trace><h2>${t.trace}</h2>
    <p>${t.lot(lotCode(line[line.length - 1]))} · ${!origin ? t.fromUnknown : 'source' in origin ? t.fromElsewhere(origin.source) : t.fromFind(origin.shore, dayName(origin.day, ''))}</p></section>`;
}

/** @param {{given: Given, undo: () => void, more: false | (() => void)}} props */
function Done({ given, undo, more }) {
  const t = fate.handOn;
  return html`<section class="saved" data-hand-on="done"><h2 id="handed" tabindex="-1">${t.done(nameOf(`specimen/${given.id}`), given.to)}</h2>
    <div class="actions"><${Link} class="button main" to=${`/tanks/labels/${given.id}`} data-do="label">${t.label}<//>
      ${more && html`<button type="button" data-do="more" onClick=${more}>${t.other}</button>`}
      <button type="button" data-do="undo" onClick=${undo}>${t.undo}</button>
      <${Link} class="button" to=${`/tanks/recall/${given.id}`}>${t.recall}<//></div></section>`;
}
