// One find: what is known of it, and what can still be done about it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { called } from '../parts/kinds.js';
import { now } from '../parts/now.js';
import { dayAndClock, localDay } from '../parts/when.js';
import { go, parts } from '../route.js';
import { ready, records } from '../../data/book.js';
import { me } from '../../data/door.js';
import { keptDraft } from '../../data/drafts.js';
import { shores } from '../plan/shore-state.js';
import { FindForm } from './find-form.js';
import { FindFrame } from './find-frame.js';
import { howMuch, useUnsent, what } from './find-words.js';
import { bringBack, childsPhone, findNamed, nameOf, putBack, readsOnly, setFind, takeBack, zoneOf } from './finds-state.js';
import { IdentifyForm } from './identify-form.js';
import { outings } from './outing-state.js';
import { Thumb } from './thumb.js';
import { askedOfFind } from './verdict-ask.js';
import { ofNow, useVerdict } from './verdict-state.js';
import { VerdictPanel } from './verdict.js';
import { takes } from '../../text/en-takes.js';
import { text } from '../../text/en.js';

/** @typedef {import('./find.js').Find} Find */

/** Without an outing, the same tide is taken to be over this long after the find. Half of a falling and rising tide, milliseconds. */
const SAME_TIDE_MS = 3 * 3_600_000;
/** And on an outing, which somebody may have forgotten to end, this long after it: a falling or rising tide. */
const ON_OUTING_MS = 6 * 3_600_000;

/** @param {{of: string}} props the find's id */
export function FindPage({ of }) {
  const t = text.oneFind;
  const read = useSignal(false);
  const says = useSignal('');
  useEffect(() => void ready('find').then(() => (read.value = true)), []);
  const doing = parts.value[3];
  const find = findNamed(of);
  const verdict = useVerdict(find?.fate === 'taken' && !find.deleted ? askedOfFind(find) : undefined);
  // Where the page went while something was being changed, it goes on there.
  useEffect(() => void keptDraft(`find:${of}`).then((kept) => kept && !parts.peek()[3] && go(`/shore/find/${of}/edit`)), [of]);
  if (!find) return html`<${FindFrame} title=${t.title} to="/shore/today" back=${t.back}>${read.value && html`<p>${text.finds.notHere} ${text.finds.notHereWhy}</p>`}<//>`;
  const done = (/** @type {string} */ said) => {
    says.value = said;
    if (said) announce(said);
    go(`/shore/find/${of}`);
  };
  if (doing === 'edit' && !readsOnly.value) return html`<${FindFrame} title=${t.edit} to=${`/shore/find/${of}`} back=${t.title}><${FindForm} find=${find} done=${done} /><//>`;
  if (doing === 'name' && !readsOnly.value && !childsPhone.value) return html`<${FindFrame} title=${t.identifyTitle} to=${`/shore/find/${of}`} back=${t.title}><${IdentifyForm} find=${find} done=${done} /><//>`;
  const zone = zoneOf(find.shore);
  return html`<${FindFrame} title=${`${howMuch(find)} ${what(find)}`.trim()} to=${`/shore/today/${localDay(find.atMs, zone)}`} back=${t.back}>
    ${says.value && html`<p class="saved" data-says>${says.value}</p>`}
    ${find.deleted && html`<div class="heed" data-deleted><p>${t.deleted}</p><button type="button" data-do="bring-back" onClick=${() => bringBack(find.id)}>${t.bringBack}</button></div>`}
    ${find.identified.length > 0 && html`<p class="first">${t.first(called(find.first))}</p>`}
    ${find.photos.length > 0 && html`<ul class="thumbs">${find.photos.map((sha, i) => html`<li key=${sha}><${Thumb} sha=${sha} alt=${text.photo.alt(i + 1)} /></li>`)}</ul>`}
    <${Facts} find=${find} zone=${zone} />
    ${find.fate === 'taken' && !find.deleted && html`<${VerdictPanel} of=${verdict} taxon=${find.taxon} saved=${true} past=${!ofNow({ outing: find.outing, at: find.fields.at })} />`}
    ${find.identified.length > 0 && html`<section><h2>${t.identified}</h2><ul class="plain">${find.identified.map((one) => html`<li key=${one.id}>${t.identifiedAs(called(one.taxon), dayAndClock(one.at, zone), nameOf(one.by), one.how ?? '')}</li>`)}</ul></section>`}
    ${!readsOnly.value && !find.deleted && html`<${PutBack} find=${find} zone=${zone} may=${verdict?.putBack} />
      <div class="doing">
        ${!childsPhone.value && html`<${Link} class="button" data-do="name" to=${`/shore/find/${of}/name`}>${t.identify}<//>`}
        <button type="button" class="remove" data-do="remove" onClick=${() => takeBack(find.id)}>${t.remove}</button>
      </div>`}
    <p class="doing"><${Link} class="button" data-do="history" to=${`/house/history/find/${of}`}>${t.history}<//>
      ${find.outing && html`<${Link} class="button" to=${`/shore/outings/${find.outing}`}>${t.outing}<//>`}</p>
    ${!readsOnly.value && html`<div class="bottom"><${Link} class="button main" data-do="edit" to=${`/shore/find/${of}/edit`}>${t.edit}<//></div>`}
  <//>`;
}

/** @param {{find: Find, zone: string}} props */
function Facts({ find, zone }) {
  const t = text.oneFind;
  const f = text.finds;
  const { fields, position } = find;
  const waits = useUnsent(find);
  const place = position === 'noFix' ? f.noFix : position && t.at(position.lat.toFixed(5), position.lon.toFixed(5), f.within(position.accuracyM));
  const candidates = fields.candidates?.length > 0 && fields.candidates.map(called).join(', ');
  const flags = records('find').value.find(({ id }) => id === find.id)?.flags ?? [];
  /** @type {[string, any][]} */
  const rows = [
    [t.facts.when, dayAndClock(new Date(find.atMs).toISOString(), zone)], [t.facts.shore, shores.value.find(({ id }) => id === find.shore)?.name], [t.facts.who, nameOf(find.by)],
    [t.facts.amount, howMuch(find)], [t.facts.fate, find.fate && f.fates[find.fate]], [t.facts.state, find.state && f.states[find.state]], [t.candidates, candidates],
    [t.facts.size, fields.size && `${fields.size.mm} mm, ${t.axes[/** @type {'length'} */ (fields.size.axis)] ?? ''}`], [t.facts.mass, fields.mass && `${fields.mass.g} g, ${t.weighings[/** @type {'wet'} */ (fields.mass.weighed)] ?? ''}`],
    [t.facts.height, fields.height && t.heights[/** @type {'low'} */ (fields.height)]], [t.facts.habitat, fields.habitat], [t.facts.container, fields.container], [t.facts.scale, fields.scale],
    [t.facts.position, place || t.positionWaiting], [t.facts.note, fields.note], [t.facts.noted, fields.noted === 'slate' && t.slate], [t.facts.sent, !me.value ? t.alone : waits === undefined ? '' : waits ? t.notSent : t.sent],
    ...flags.map(({ text: words }) => /** @type {[string, any]} */ ([t.doubt, words])),
  ];
  return html`<dl class="facts">${rows.filter(([, value]) => value).map(([name, value]) => html`<dt key=${name}>${name}</dt><dd>${value}</dd>`)}</dl>
    ${find.unfinished && html`<p class="marks">${f.unfinished}</p>`}`;
}

/**
 * What was taken may go back on the same shore and tide, where the rules on file allow that;
 * that it did go back can be said in any case.
 * @param {{find: Find, zone: string, may: string | undefined}} props may: what the rules say; undefined while they are not reckoned
 */
function PutBack({ find, zone, may }) {
  const t = text.oneFind;
  if (find.fate !== 'taken') return null;
  if (find.putBack) {
    const part = find.putBack.amount ? `: ${text.finds.amount(find.putBack.amount.value, find.putBack.amount.unit)}` : '';
    return html`<section data-put-back="done"><p>${t.wasPutBack(dayAndClock(find.putBack.at, zone), part)}</p><button type="button" data-do="not-back" onClick=${() => setFind(find.id, { putBack: null })}>${t.notPutBack}</button></section>`;
  }
  const outing = outings.value.find(({ id }) => id === find.outing);
  const since = now.value - find.atMs;
  const sameTide = outing ? outing.endedMs === null && outing.startedMs !== null && since < ON_OUTING_MS : since < SAME_TIDE_MS;
  if (!sameTide) return html`<p class="soft" data-put-back="late">${t.putBackLate}</p>`;
  const says = takes.putBack[may ?? ''] ?? takes.putBack.unknown;
  const allowed = may === 'allowed' || may === 'demanded';
  return html`<section data-put-back=${allowed ? 'may' : may ?? 'waits'}><h2>${t.putBack}</h2><p>${says}</p>
    <button type="button" class=${allowed ? '' : 'quiet'} data-do="put-back" onClick=${() => putBack(find)}>${allowed ? t.putBackDo : takes.wasPutBack}</button></section>`;
}
