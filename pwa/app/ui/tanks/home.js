// The first page of Tanks: what is due, then the systems, then who lives in them.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { setHousehold } from '../../data/household.js';
import { recallKinds } from '../parts/kinds.js';
import { underWay as running } from './acclimate-runs.js';
import { DueList } from './due-list.js';
import { WaitingOutings } from './settle-in-list.js';
import { coming, home, may, nameOf, namesOfAll, picture, read, specimenOf, specimens, tanks, zone } from './picture-state.js';
import { Reckoned } from './system-reckoned.js';
import { SpecimenRow } from './specimen-row.js';
import { SystemRow } from './system-row.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @typedef {import('./picture-state.js').SystemState} SystemState */

export function Home() {
  useEffect(() => void recallKinds(), []);
  const now = picture.value;
  const begun = tanks.value.length > 0 || specimens.value.length > 0;
  return html`<h1>${text.title}</h1>
    ${!read.value ? null : html`<div class="tanks" data-reckoned=${Boolean(now)} data-day=${now?.day}>
      <${WaitingOutings} />
      ${!begun && coming.value ? html`<p class="heed" data-picture="partial" role="status">${text.comingBook}</p>` : !begun ? html`<${Empty} />` : html`
        ${running.value.map((run) => html`<${Link} key=${run.id} class="button main" to=${`/tanks/acclimate/run/${run.id}`} data-do="running">${text.home.running(text.few(namesOfAll(run.specimens)))}<//>`)}
        <${Reckoned} />
        ${now && html`<${DueList} />`}
        <div class="tank-lists">
          <${Systems} />
          <${Specimens} />
        </div>`}
      <${More} begun=${begun} />
      ${begun && html`<${Zone} />`}
    </div>`}`;
}

function Empty() {
  const t = text.home;
  return html`<section class="empty-tanks" data-empty><h2>${t.emptyTitle}</h2><p>${t.empty}</p>
    <ol class="steps">${t.emptySteps.map((step) => html`<li>${step}</li>`)}</ol>
    ${may.value.decide ? html`<${Link} class="button main" to="/tanks/tank/new" data-do="new-tank">${t.newTank}<//>` : html`<p class="soft">${text.due.child}</p>`}</section>`;
}

/**
 * In shelf order: by the tank of a system that comes first.
 * @param {SystemState[]} list
 */
export function shelfOrder(list) {
  const place = new Map(tanks.value.map(({ id }, i) => [id, i]));
  const first = (/** @type {SystemState} */ { tanks: its }) => Math.min(...its.map((id) => place.get(id) ?? Infinity));
  return [...list].sort((a, b) => first(a) - first(b) || nameOf(a.key).localeCompare(nameOf(b.key)));
}

function Systems() {
  const t = text.home;
  const now = picture.value;
  const walks = now?.systems.filter(({ residents }) => residents.length > 0).length ?? 0;
  return html`<section aria-labelledby="systems"><h2 id="systems">${t.systems}</h2>
    ${now ? html`<ul class="tank-rows" data-list="systems">${shelfOrder(now.systems).map((state) => html`<${SystemRow} key=${state.key} state=${state} today=${now.day} />`)}</ul>`
      : html`<ul class="tank-rows" data-list="tanks">${tanks.value.map(({ id, name }) => html`<li key=${id}><${Link} to=${`/tanks/system/tank/${id}`}><span class="row-head"><strong>${name}</strong> <span class="state">${text.notReckoned}</span></span><//></li>`)}</ul>`}
    ${walks > 1 && may.value.note && html`<${Link} class="button" to="/tanks/walk">${t.walk}<//>`}
    <p class="soft">${t.systemsHint}</p>
  </section>`;
}

/** Rows at a time. */
const PART = 30;
/** From so many on there is a search. */
const MANY = 8;

function Specimens() {
  const t = text.home;
  const typed = useSignal('');
  const shown = useSignal(PART);
  const now = picture.value;
  if (specimens.value.length === 0) return html`<section aria-labelledby="specimens"><h2 id="specimens">${t.specimens}</h2><p>${t.emptyTitle}.</p></section>`;
  if (!now) return html`<section aria-labelledby="specimens"><h2 id="specimens">${t.specimens}</h2><ul class="tank-rows">${specimens.value.slice(0, PART).map(({ id }) => html`<li key=${id}><${Link} to=${`/tanks/specimen/${id}`}><span class="row-head"><strong>${nameOf(`specimen/${id}`)}</strong> <span class="state">${text.notReckoned}</span></span><//></li>`)}</ul></section>`;
  const words = typed.value.toLowerCase().split(/\s+/).filter(Boolean);
  const fits = (/** @type {string} */ id) => {
    const one = specimenOf(id);
    const all = [nameOf(`specimen/${id}`), one?.taxon, nameOf(one?.state?.system), nameOf(`tank/${one?.state?.tank}`)].join(' ').toLowerCase();
    return words.every((word) => all.includes(word));
  };
  const known = now.specimens.filter(({ id }) => specimenOf(id));
  const hits = known.filter(({ id }) => fits(id)).sort((a, b) => nameOf(`specimen/${a.id}`).localeCompare(nameOf(`specimen/${b.id}`), undefined, { numeric: true }));
  const here = hits.filter(({ gone }) => !gone);
  const gone = hits.filter((one) => one.gone);
  return html`<section aria-labelledby="specimens"><h2 id="specimens">${t.specimens}</h2>
    ${known.length >= MANY && html`<div class="field"><label for="search">${t.search}</label>
      <input id="search" type="search" autocomplete="off" value=${typed.value} onInput=${(/** @type {any} */ e) => (typed.value = e.target.value)} />
      <p class="soft" role="status">${words.length > 0 ? t.found(here.length) : ''}</p></div>`}
    <ul class="tank-rows" data-list="specimens">${here.slice(0, shown.value).map((state) => html`<${SpecimenRow} key=${state.id} state=${state} today=${now.day} />`)}</ul>
    ${here.length > shown.value && html`<button type="button" class="quiet" data-do="more" onClick=${() => (shown.value += PART)}>${t.more}</button>`}
    ${gone.length > 0 && html`<details class="gone-list"><summary>${t.goneList(gone.length)}</summary><ul class="tank-rows">${gone.slice(0, shown.value).map((state) => html`<${SpecimenRow} key=${state.id} state=${state} today=${now.day} />`)}</ul></details>`}
  </section>`;
}

/** @param {{begun: boolean}} props */
function More({ begun }) {
  const t = text.home;
  const decide = may.value.decide;
  return html`<nav class="tank-ways" aria-label=${t.more_}>
    <${Link} class="button" to="/tanks/trouble">${t.trouble}<//>
    ${decide && begun && html`<${Link} class="button" to="/tanks/tank/new" data-do="new-tank">${t.newTank}<//>`}
    ${decide && begun && html`<${Link} class="button" to="/tanks/specimen/new" data-do="new-specimen">${t.newSpecimen}<//>`}
    ${decide && tanks.value.length > 1 && html`<${Link} class="button" to="/tanks/system/new" data-do="new-system">${t.newSystem}<//>`}
    ${begun && html`<${Link} class="button" to="/tanks/ticks">${t.ticks}<//><${Link} class="button" to="/tanks/labels">${t.labels}<//><${Link} class="button" to="/tanks/companions">${t.companions}<//><${Link} class="button" to="/tanks/numbers">${t.numbers}<//>`}
    <${Link} class="button" to="/tanks/water">${t.tools}<//>
  </nav>`;
}

/** Days are counted on one clock for all phones: a keeper says once which. */
function Zone() {
  const t = text.home;
  const said = Boolean(home.value.zone);
  const keep = async () => announce((await setHousehold({ home: { ...home.peek(), zone: zone.peek() } })) ? t.zoneKept : text.unkept);
  return html`<p class="soft" data-zone=${said}>${t.zone(zone.value)} ${!said && t.zoneUnsaid}</p>
    ${!said && may.value.overrule && html`<button type="button" class="quiet" data-do="zone" onClick=${keep}>${t.zoneKeep(zone.value)}</button>`}`;
}
