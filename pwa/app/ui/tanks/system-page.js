// One water system: how its wait stands and why, what is open, who lives in it, what happened.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { recallKinds } from '../parts/kinds.js';
import { dayAndClock, dayName, localDay } from '../parts/when.js';
import { Page } from '../house/page.js';
import { adultLooks, observer, WhoLooks } from './check-who.js';
import { events, may, nameOf, picture, read, systemOf, writeEvent, zone } from './picture-state.js';
import { StateWord, LongStrip } from './strip.js';
import { pausedBy } from './strip-days.js';
import { Reckoned } from './system-reckoned.js';
import { SpecimenRow } from './specimen-row.js';
import { Log, eventsOf } from './system-log.js';
import { OpenSigns } from './system-signs.js';
import { SystemTanks } from './system-tanks.js';
import { Protocol } from './system-protocol.js';
import { progress } from './system-row.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @typedef {import('./picture-state.js').SystemState} SystemState */

/** @param {{of: string[]}} props kind and id */
export function SystemPage({ of: [kind = '', id = ''] }) {
  const t = text.system;
  useEffect(() => void recallKinds(), []);
  const system = systemOf(`${kind}/${id}`);
  if (!system) return html`<${Page} title=${t.title} to="/tanks" back=${text.back}>${read.value && html`<p>${text.gone}</p>`}<//>`;
  const { ref, state } = system;
  const today = picture.value?.day ?? '';
  return html`<${Page} title=${system.name || text.unnamed} to="/tanks" back=${text.back}><div class="system" data-system=${ref} data-state=${state?.state}>
    <${Reckoned} />
    ${state && html`<${Standing} state=${state} today=${today} />`}
    ${state && html`<${OpenSigns} open=${state.open} />`}
    ${state && state.questions.length > 0 && html`<${Questions} state=${state} />`}
    ${may.value.note && html`<div class="tank-do">
      <${Link} class="button main" to=${`/tanks/check/${ref}`} data-do="check">${t.check}<//>
      <${Link} class="button" to=${`/tanks/reading/${ref}`}>${t.reading}<//>
      ${may.value.decide && html`<${Link} class="button" to=${`/tanks/change/${ref}`}>${t.change}<//>`}
    </div>`}
    ${state && state.unconfirmed.length > 0 && html`<${Unconfirmed} state=${state} today=${today} />`}
    <div class="tank-lists halves"><div>
    ${state && html`<section aria-labelledby="days"><h2 id="days">${text.strip}</h2><${LongStrip} days=${state.days} today=${today} /></section>`}
    ${state && html`<section aria-labelledby="residents"><h2 id="residents">${t.residents}</h2>
      ${state.residents.length === 0 ? html`<p class="soft">${t.nobody}</p>` : html`<ul class="tank-rows">${state.residents.map((one) => {
        const specimen = picture.value?.specimens.find(({ id: is }) => is === one);
        return specimen && html`<${SpecimenRow} key=${one} state=${specimen} today=${today} />`;
      })}</ul>`}
      ${may.value.decide && html`<${Link} class="button" to="/tanks/specimen/new">${text.home.newSpecimen}<//>`}</section>`}
    <${SystemTanks} system=${system} />
    </div><div>
    ${kind === 'system' && system.kind === 'system' && html`<${Protocol} system=${system} />`}
    <${SystemEvents} system=${system} />
    </div></div>
    <p class="doing"><${Link} class="button" to=${`/tanks/lid/${ref}`}>${t.lid}<//>${system.kind === 'system' && html`<${Link} class="button" to=${`/house/history/system/${system.id}`}>${t.history}<//>`}</p>
  </div><//>`;
}

/** @param {{state: SystemState, today: string}} props */
function Standing({ state, today }) {
  const by = pausedBy(state);
  const began = state.since && [...state.days].reverse().find(({ kind, why }) => kind === 'restarted' && why?.some(({ event }) => event === state.since?.event));
  const cause = state.since && (text.causes[state.since.why] ?? state.since.why);
  const longest = state.longest && nameOf(`specimen/${state.longest}`);
  const runs = ['waiting', 'paused', 'done'].includes(state.state) && state.since;
  return html`<section class="standing" data-quiet=${state.quiet} data-wait=${state.wait}>
    <p class="large"><${StateWord} state=${state.state} /> ${progress(state, today)}</p>
    ${state.state === 'done' && html`<p>${text.doneSince}</p>`}
    ${state.state === 'stopped' && html`<p>${text.stoppedWhat}</p>`}
    ${by && html`<p>${text.pausedWhy[by]}</p>`}
    ${runs && html`<p>${cause && (began ? text.since(dayName(began.day, today), cause) : text.sinceWhy(cause))} ${text.system.waits} ${state.own ? text.waitBy.own(state.wait) : longest ? text.waitBy.longest(state.wait, longest, state.cold) : text.waitBy.plain(state.wait, state.cold)}</p>`}
    ${runs && html`<p class="soft">${state.looked ? text.looked(dayAndClock(state.looked, zone.value)) : text.lookedNot}</p>`}
    ${state.state === 'none' && html`<p class="soft">${text.system.none}</p>`}
    ${state.future.length > 0 && html`<p class="heed">${text.system.future(state.future.length)}</p>`}
  </section>`;
}

/** @param {{state: SystemState}} props */
function Questions({ state }) {
  const t = text.system;
  return html`<section class="heed" data-questions=${state.questions.length}><h2>${t.question}</h2><p>${t.questionWhat}</p>
    <ul class="plain">${state.questions.map((one) => html`<li>${one.specimen ? html`<${Link} to=${`/tanks/specimen/${one.specimen}`}>${nameOf(`specimen/${one.specimen}`)}<//>` : t.itsWater}: ${one.missing.map((word) => /** @type {Record<string, string>} */ (text.missingShort)[word] ?? word).join(', ')}</li>`)}</ul></section>`;
}

/**
 * Days that somebody saw to be quiet and no adult has confirmed.
 * @param {{state: SystemState, today: string}} props
 */
function Unconfirmed({ state, today }) {
  const t = text.system;
  const says = useSignal('');
  const confirm = async (/** @type {string[]} */ days) => {
    if (observer.peek() && !adultLooks.peek()) return announce((says.value = text.due.child));
    let kept = true;
    for (const day of days) kept = (await writeEvent('confirmed', { of: state.key, by: observer.peek(), day })).kept && kept;
    says.value = kept ? t.confirmed(days.length) : text.unkept;
    announce(says.value);
    document.getElementById('unconfirmed')?.focus();
  };
  return html`<section aria-labelledby="unconfirmed" data-unconfirmed=${state.unconfirmed.length}><h2 id="unconfirmed" tabindex="-1">${t.unconfirmed}</h2>
    <p>${t.unconfirmedWhy}</p>
    ${says.value && html`<p class="soft" role="status">${says.value}</p>`}
    ${!may.value.decide ? html`<p class="soft">${text.due.child}</p>` : html`<${WhoLooks} />
      <ul class="entries">${state.unconfirmed.map((day) => html`<li key=${day} data-day=${day}><p>${dayName(day, today)} <span class="soft">${lookedBy(state, day)}</span></p>
        <button type="button" data-do="confirm" aria-label=${text.due.label(text.due.do.confirm, dayName(day, today))} onClick=${() => confirm([day])}>${text.due.do.confirm}</button></li>`)}</ul>
      ${state.unconfirmed.length > 1 && html`<button type="button" data-do="confirm-all" onClick=${() => confirm(state.unconfirmed)}>${t.confirmAll}</button>`}`}
  </section>`;
}

/**
 * Who looked on a day.
 * @param {SystemState} state @param {string} day
 */
function lookedBy(state, day) {
  const of = new Set([state.key, ...state.tanks.map((id) => `tank/${id}`), ...state.residents.map((id) => `specimen/${id}`)]);
  const names = eventsOf(({ what, of: its, at }) => what === 'checked' && of.has(its) && localDay(Date.parse(at), zone.value) === day).map(({ by }) => (by ? nameOf(`member/${by}`) : ''));
  return text.system.by(text.and([...new Set(names.filter(Boolean))]));
}

/** @param {{system: NonNullable<ReturnType<typeof systemOf>>}} props */
function SystemEvents({ system: { ref, state } }) {
  const of = new Set([ref, ...(state?.tanks ?? []).map((id) => `tank/${id}`), ...(state?.residents ?? []).map((id) => `specimen/${id}`)]);
  const causes = new Set(state?.days.flatMap(({ why }) => (why ?? []).map(({ event }) => event)));
  const tanks = new Set(state?.tanks);
  void events.value;
  const list = eventsOf(({ id, of: its, value }) => of.has(its) || causes.has(id) || tanks.has(value.tank));
  return html`<section aria-labelledby="log"><h2 id="log" tabindex="-1">${text.log.title}</h2><${Log} list=${list} self=${ref} /></section>`;
}
