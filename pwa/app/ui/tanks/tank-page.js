// One tank: what it is, how its water stands now and over time, who lives in it.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { recallKinds } from '../parts/kinds.js';
import { dayAndClock } from '../parts/when.js';
import { Page } from '../house/page.js';
import { Charts } from './chart-reading.js';
import { may, nameOf, picture, read, systemOf, tankOf, zone } from './picture-state.js';
import { KINDS } from './reading-kinds.js';
import { ReadingRow } from './reading-row.js';
import { TankForm } from './tank-form.js';
import { lastOf, rangesOf, waterGiven } from './tank-of.js';
import { rangeWords } from './tank-ranges.js';
import { litres } from './tank-units.js';
import { tanks as text } from '../../text/en-tanks.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.tank;

/** @param {{of: string[]}} props the id, or "new"; then "edit" */
export function TankPage({ of: [id = '', act = ''] }) {
  useEffect(() => void recallKinds(), []);
  const tank = tankOf(id);
  const frame = (/** @type {string} */ title, /** @type {any} */ inside) => html`<${Page} title=${title} to="/tanks" back=${text.back}>${inside}<//>`;
  if (!read.value) return frame(t.title, null);
  if (id === 'new' || (tank && act === 'edit')) {
    const title = tank ? all.form.edit(tank.name) : all.form.add;
    return frame(title, may.value.decide ? html`<${TankForm} key=${id} tank=${tank} />` : html`<p>${text.due.child}</p>`);
  }
  if (!tank) return frame(t.title, html`<p>${text.gone}</p>`);
  return frame(String(tank.name), html`<${Shown} tank=${tank} />`);
}

/** @param {{tank: Record<string, any>}} props */
function Shown({ tank }) {
  const ref = `tank/${tank.id}`;
  const system = systemOf(ref);
  const shared = system?.kind === 'system';
  return html`<div class="tank" data-tank=${tank.id}>
    ${may.value.note && html`<div class="tank-do">
      <${Link} class="button main" to=${`/tanks/reading/${ref}`} data-do="read">${t.read}<//>
      <${Link} class="button" to=${`/tanks/check/${system?.ref ?? ref}`}>${t.check}<//>
      ${may.value.decide && html`<${Link} class="button" to=${`/tanks/change/${ref}`} data-do="change">${t.change}<//>`}
    </div>`}
    <div class="tank-two">
      <${LastReadings} of=${ref} />
      <section aria-labelledby="facts"><h2 id="facts" class="unseen">${t.more}</h2>
        <dl class="facts">
          <dt>${t.use}</dt><dd>${tank.use ? t.uses[tank.use] : '–'}</dd>
          <dt>${t.volume}</dt><dd>${tank.volumeL > 0 ? litres(tank.volumeL) : t.volumeNot}</dd>
          <dt>${t.system}</dt><dd>${shared ? html`<${Link} to=${`/tanks/system/${system.ref}`}>${system.name}<//>` : html`<${Link} to=${`/tanks/system/${ref}`}>${t.alone}<//>`}</dd>
          <dt>${t.keeps}</dt><dd>${tank.keeps ? html`${all.kinds.salinity} ${rangeWords('salinity', [tank.keeps.salinityLow, tank.keeps.salinityHigh])} · ${rangeWords('temperatureC', [tank.keeps.lowC, tank.keeps.highC])}` : t.keepsNot}</dd>
          ${Number.isFinite(tank.order) && html`<dt>${t.shelf}</dt><dd>${tank.order}</dd>`}
          ${tank.fillLine && html`<dt>${t.fill}</dt><dd>${[tank.fillLine.note, tank.fillLine.litresPerCm && t.perCm(litres(tank.fillLine.litresPerCm))].filter(Boolean).join(' · ') || '✓'}</dd>`}
          <${Rhythm} every=${tank.every} />
          ${tank.note && html`<dt>${t.note}</dt><dd>${tank.note}</dd>`}
        </dl></section>
      <${Residents} id=${tank.id} />
    </div>
    <${Charts} of=${ref} />
    <${Given} of=${ref} />
    <p class="doing">${may.value.decide && html`<${Link} class="button" to=${`/tanks/tank/${tank.id}/edit`} data-do="edit">${t.edit}<//>`}
      <${Link} class="button" to=${`/tanks/lid/${ref}`}>${t.lid}<//><${Link} class="button" to="/tanks/water">${t.tools}<//></p>
  </div>`;
}

/** @param {{every?: Record<string, number>}} props */
function Rhythm({ every }) {
  const list = Object.entries(every ?? {}).filter(([, days]) => days > 0);
  const names = /** @type {Record<string, any>} */ (all.form);
  return list.length ? html`<dt>${t.every}</dt><dd>${list.map(([what, days]) => `${names[what] ?? what}: ${all.form.days(days)}`).join(' · ')}</dd>` : null;
}

/** @param {{of: string}} props */
function LastReadings({ of }) {
  const last = lastOf(of);
  const ranges = rangesOf(of);
  const list = KINDS.filter((kind) => last[kind]);
  return html`<section class="last" aria-labelledby="last"><h2 id="last">${t.readings}</h2>
    ${list.length === 0 ? html`<p class="soft">${t.readingsNone}</p>` : html`<ul class="readings">${list.map((kind) => {
      const one = /** @type {NonNullable<typeof last[typeof kind]>} */ (last[kind]);
      return html`<${ReadingRow} key=${kind} kind=${kind} value=${one.value} ranges=${ranges} at=${one.at} of=${one.of === of ? '' : nameOf(one.of)} />`;
    })}</ul>`}</section>`;
}

/** @param {{id: string}} props */
function Residents({ id }) {
  const now = picture.value;
  const here = now?.specimens.filter((one) => one.tank === id && !one.gone) ?? [];
  return html`<section aria-labelledby="residents"><h2 id="residents">${t.residents}</h2>
    ${!now ? html`<p class="soft">${t.notReckoned}</p>` : here.length === 0 ? html`<p class="soft">${t.nobody}</p>`
      : html`<ul class="rows">${here.map((one) => html`<li key=${one.id}><${Link} to=${`/tanks/specimen/${one.id}`}>${nameOf(`specimen/${one.id}`)}<//></li>`)}</ul>`}</section>`;
}

/**
 * The last changes of water and top-ups.
 * @param {{of: string}} props
 */
function Given({ of }) {
  const list = waterGiven(of).slice(0, 6);
  if (list.length === 0) return null;
  return html`<section aria-labelledby="given"><h2 id="given">${t.waters}</h2><ul class="log">${list.map((one) => html`<li key=${one.id}><p><span class="soft">${dayAndClock(one.at, zone.value)}</span>
    ${one.what === 'changed' ? t.changed(litres(one.litres), all.change.fromShort[one.from] ?? one.from) : t.toppedUp(one.litres ? litres(one.litres) : '')}</p></li>`)}</ul></section>`;
}
