// One specimen: how long it has waited and what is missing, what can be done, what happened.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { called, groupName, recallKinds, taxonNamed } from '../parts/kinds.js';
import { dayAndClock, dayName } from '../parts/when.js';
import { records } from '../../data/book.js';
import { Page } from '../house/page.js';
import { recallShores, shores } from '../plan/shore-state.js';
import { findOf } from '../shore/find.js';
import { Thumb } from '../shore/thumb.js';
import { alike, current, may, nameOf, picture, read, specimenOf, systemOf, zone } from './picture-state.js';
import { ClearPage } from './specimen-clear.js';
import { acts } from './specimen-do.js';
import { SpecimenEdit } from './specimen-form.js';
import { missingWords } from './specimen-missing.js';
import { standing } from './specimen-row.js';
import { LongStrip, StateWord } from './strip.js';
import { Log, eventsOf } from './system-log.js';
import { Reckoned } from './system-reckoned.js';
import { OpenSigns } from './system-signs.js';
import { progress } from './system-row.js';
import { tanks as text } from '../../text/en-tanks.js';
import { text as all } from '../../text/en.js';

/** @typedef {NonNullable<ReturnType<typeof specimenOf>>} Specimen */

/** @param {{of: string[]}} props id, and what is done */
export function SpecimenPage({ of: [id = '', doing = ''] }) {
  const t = text.specimen;
  useEffect(() => {
    recallKinds();
    recallShores();
  }, []);
  const one = specimenOf(id);
  const name = nameOf(`specimen/${id}`);
  if (!one) return html`<${Page} title=${t.title} to="/tanks" back=${text.back}>${read.value && html`<p>${text.gone}</p>`}<//>`;
  if (doing && may.value.note) {
    const inside = doing === 'clear' ? html`<${ClearPage} one=${one} />` : doing === 'edit' ? html`<${SpecimenEdit} one=${one} />` : acts[doing] && html`<${acts[doing].Form} one=${one} />`;
    const title = doing === 'clear' ? t.clearTitle(name) : doing === 'edit' ? t.editTitle(name) : acts[doing]?.title(name);
    if (inside) return html`<${Page} title=${title} to=${`/tanks/specimen/${id}`} back=${name}>${doing !== 'died' && !may.value.decide ? html`<p>${text.due.child}</p>` : inside}<//>`;
  }
  const { state } = one;
  const today = picture.value?.day ?? '';
  const system = state?.system ? systemOf(state.system) : undefined;
  const clock = state && !state.gone && system?.state && !['none', 'empty'].includes(system.state.state);
  const about = state && system?.state ? system.state.open.filter(({ of: its }) => its === `specimen/${id}`) : [];
  return html`<${Page} title=${name} to="/tanks" back=${text.back}><div class="specimen" data-specimen=${id} data-may=${state?.may} data-missing=${state?.missing.join(' ')}>
    <${Reckoned} />
    <${Facts} one=${one} />
    ${state?.gone && html`<p class="large" data-gone=${state.gone}>${standing(state, today)}${state.goneTo ? `: ${state.goneTo}` : ''}</p>`}
    ${state && !state.gone && html`<section class="standing">
      ${system && html`<p class="large">${clock && html`<${StateWord} state=${system.state?.state} />`} ${state.cleared ? standing(state, today) : progress(system.state, today)}</p>
      <p class="lives-in">${t.livesIn} <${Link} class="button" to=${`/tanks/system/${state.system}`}>${system.name || text.unnamed}<//>${system.kind === 'system' ? nameOf(`tank/${state.tank}`) : ''}</p>`}
      <${Clearance} one=${one} today=${today} />
    </section>`}
    <${OpenSigns} open=${about} />
    ${may.value.note && state && !state.gone && html`<${Doing} one=${one} />`}
    <div class="tank-lists halves"><div>
    ${clock && !state.cleared && html`<section aria-labelledby="days"><h2 id="days">${text.strip}</h2><${LongStrip} days=${system?.state?.days ?? []} today=${today} from=${state.arrived} /></section>`}
    <${Family} one=${one} />
    </div><div><section aria-labelledby="log"><h2 id="log" tabindex="-1">${text.log.title}</h2><${Log} list=${eventsOf(({ of: its, value }) => its === `specimen/${id}` || value.into === id)} self=${`specimen/${id}`} /></section></div></div>
    <p class="doing">${may.value.decide && html`<${Link} class="button" data-do="edit" to=${`/tanks/specimen/${id}/edit`}>${t.edit}<//>`}
      <${Link} class="button" to=${`/tanks/recall/${id}`}>${t.recall}<//><${Link} class="button" to=${`/house/history/specimen/${id}`}>${text.system.history}<//></p>
  </div><//>`;
}

/** @param {{one: Specimen}} props */
function Facts({ one }) {
  const t = text.specimen;
  const rec = records('find').value.find(({ id, deleted }) => id === one.find && !deleted);
  const find = rec && findOf(rec);
  const { taxon, group } = one;
  const shore = find && shores.value.find(({ id }) => id === find.shore)?.name;
  const kind = taxonNamed(taxon);
  const photos = [...Object.keys(one).filter((field) => field.startsWith('photos/') && one[field] === true).map((field) => field.slice(7)), ...(find?.photos ?? [])];
  const from = find ? html`<${Link} to=${`/shore/find/${find.id}`}>${t.from(shore ?? '', dayAndClock(new Date(find.atMs).toISOString(), zone.value))}<//>` : one.source;
  return html`${photos.length > 0 && html`<ul class="thumbs">${photos.slice(0, 6).map((sha, i) => html`<li key=${sha}><${Thumb} sha=${sha} alt=${all.photo.alt(i + 1)} /></li>`)}</ul>`}
    <p>${called(taxon)} ${kind && html`<em class="soft">${kind.name}</em>`}${one.amount ? `, ${all.finds.amount(one.amount.value, one.amount.unit)}` : ''}${one.state?.left !== undefined && one.state.left < 100 && !one.state.gone ? `, ${t.left(one.state.left)}` : ''}${groupName(group) ? html`, <span class="soft">${groupName(group)}</span>` : ''}${one.base ? html`, <span class="soft">${text.settleIn.bases[/** @type {'cut'} */ (one.base)].toLowerCase()}</span>` : ''}</p>
    ${from && html`<p class="soft">${t.origin}: ${from}</p>`}
    ${one.note && html`<p class="soft">${one.note}</p>`}`;
}

/**
 * What is missing before it may go on, or what became of its clearance.
 * @param {{one: Specimen, today: string}} props
 */
function Clearance({ one, today }) {
  const t = text.specimen;
  const { state } = one;
  if (!state) return null;
  const words = missingWords(state, systemOf(state.system ?? '')?.state);
  if (state.cleared && state.missing.length > 0) return html`<div class="heed" data-clearance="undone"><h2>${t.undone}</h2><p>${t.undoneWhat(dayAndClock(state.cleared, zone.value))}</p><ul class="plain">${words.map((line) => html`<li>${line}</li>`)}</ul><p>${t.undoneDo}</p></div>`;
  if (state.cleared) return html`<p data-clearance=${state.overruled ? 'overruled' : 'stands'}>${t.clearedOn(dayAndClock(state.cleared, zone.value))} ${state.overruled ? t.clearedOver : ''}</p>`;
  if (!state.system) return html`<div class="heed" data-clearance="nowhere"><p>${t.nowhere}</p></div>`;
  if (state.may) return html`<div class="heed good" data-clearance="may"><p><strong>${state.overruled ? t.mayOver : t.may}</strong> ${state.overruled ? '' : text.doneSince}</p>${state.overruled && html`<p>${text.overrule.missing}</p><ul class="plain">${words.map((line) => html`<li>${line}</li>`)}</ul>`}
    ${may.value.decide && current.value && html`<${Link} class="button main" data-do="clear" to=${`/tanks/specimen/${one.id}/clear`}>${text.due.do.clear}<//>`}</div>`;
  return html`<div data-clearance="missing"><h2>${t.missing}</h2><ul class="points">${words.map((line) => html`<li key=${line}>${line}</li>`)}</ul>
    ${state.searches && state.searches.length > 0 && html`<p class="soft">${t.searched(text.and(state.searches.map((day) => dayName(day, today))))}</p>`}</div>`;
}

/** @param {{one: Specimen}} props */
function Doing({ one }) {
  const t = text.specimen;
  const { state } = one;
  const to = (/** @type {string} */ act) => `/tanks/specimen/${one.id}/${act}`;
  const decide = may.value.decide;
  const hand = state?.handOn ?? [];
  return html`<div class="tank-do">
    ${state?.system && html`<${Link} class="button" data-do="check" to=${`/tanks/check/specimen/${one.id}`}>${text.system.check}<//>`}
    ${decide && html`<${Link} class="button" data-do="move" to=${to('move')}>${state?.system ? t.move : t.arrive}<//>`}
    ${decide && state?.system && html`<${Link} class="button" data-do="acclimate" to=${`/tanks/acclimate/${one.id}`}>${t.acclimate}<//><${Link} class="button" data-do="treat" to=${to('treat')}>${t.treat}<//><${Link} class="button" data-do="part" to=${to('part')}>${t.part}<//>${twins(one) && html`<${Link} class="button" data-do="merge" to=${to('merge')}>${t.merge}<//>`}`}
    ${state?.system && html`<${Link} class="button" data-do="died" to=${to('died')}>${t.died}<//>`}
    ${decide && state?.system && html`<${Link} class="button" data-do="gone" to=${to('gone')}>${t.goneDo}<//>`}
    ${decide && state?.system && hand.length === 0 && html`<${Link} class="button" to=${`/tanks/hand-on/${one.id}`}>${t.handOn}<//>`}
    ${may.value.overrule && state?.system && (state.cleared ? state.missing.length > 0 : !state.may) && html`<${Link} class="button" data-do="overrule" to=${to('overrule')}>${t.overrule}<//>`}
  </div>`;
}

/**
 * Whether another of its kind lives here.
 * @param {Specimen} one
 */
const twins = (one) => (picture.value?.specimens ?? []).some(({ id, gone, system }) => id !== one.id && !gone && system && alike(specimenOf(id), one));

/**
 * The lot it comes from and what was parted from it.
 * @param {{one: Specimen}} props
 */
function Family({ one }) {
  const t = text.specimen;
  const from = one.state?.part || one.lot;
  const parts = (picture.value?.specimens ?? []).filter(({ part, id }) => part === one.id && id !== one.id);
  if (!from && parts.length === 0) return null;
  const link = (/** @type {string} */ id) => html`<${Link} to=${`/tanks/specimen/${id}`}>${nameOf(`specimen/${id}`) || text.unnamed}<//>`;
  return html`<section aria-labelledby="family"><h2 id="family">${t.family}</h2><ul class="tank-links">
    ${from && html`<li>${t.partOf} ${link(from)}</li>`}
    ${parts.map(({ id, tank, gone }) => html`<li key=${id}>${link(id)} <span class="soft">${gone ? /** @type {Record<string, string>} */ (t.gone)[gone] ?? gone : nameOf(`tank/${tank}`)}</span></li>`)}</ul></section>`;
}
