// What happened, newest first, each with its day and who noted it. What was noted in error is
// taken back; the book keeps it all the same.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { dayAndClock, dayName, localDay } from '../parts/when.js';
import { write } from '../../data/book.js';
import { Confirm } from '../house/confirm.js';
import { Thumb } from '../shore/thumb.js';
import { events, may, nameOf, picture, zone } from './picture-state.js';
import { litres } from './tank-units.js';
import { tanks as text } from '../../text/en-tanks.js';
import { text as all } from '../../text/en.js';

/**
 * An event as the book has it, with its one field apart.
 * @typedef {{id: string, what: string, at: string, by: string | null, of: string, value: Record<string, any>, note: string, photos: string[]}} Happened
 */

/** Fields of an event that say nothing of what happened. */
const BESIDE = ['id', 'note', 'deleted'];

/** @param {Record<string, any>} fields @returns {Happened | undefined} */
export function happened(fields) {
  const what = Object.keys(fields).find((name) => !BESIDE.includes(name) && !name.includes('/') && fields[name]?.at);
  if (!what) return undefined;
  const value = fields[what];
  const photos = Object.keys(fields).filter((name) => name.startsWith('photos/') && fields[name] === true).map((name) => name.slice('photos/'.length));
  return { id: fields.id, what, at: value.at, by: value.by ?? null, of: value.of ?? '', value, note: fields.note ?? '', photos };
}

/**
 * What happened to any of them, newest first.
 * @param {(one: Happened) => boolean} concerns
 */
export const eventsOf = (concerns) => events.value.flatMap((fields) => {
  const one = happened(fields);
  return one && concerns(one) ? [one] : [];
}).sort((a, b) => (a.at === b.at ? (a.id < b.id ? 1 : -1) : a.at < b.at ? 1 : -1));

/** @param {{value: number, unit: string} | undefined} amount */
const much = (amount) => (amount ? all.finds.amount(amount.value, /** @type {any} */ (amount.unit)) : '');

/** Whoever notes a sign has looked at the others too: two events of one touch. */
const ONE_TOUCH_MS = 5000;

/**
 * Whether a look was noted along with a sign.
 * @param {Happened} one
 */
const withSign = ({ at, value }) => events.value.some(({ sign }) => sign && sign.by === value.by && Math.abs(Date.parse(sign.at) - Date.parse(at)) < ONE_TOUCH_MS);

/** @param {Happened} one */
export function eventWords(one) {
  const { what, value } = one;
  const t = text.log;
  const today = picture.value?.day ?? localDay(Date.now(), zone.value);
  switch (what) {
    case 'arrived': case 'moved': return t[what](nameOf(`tank/${value.tank}`));
    case 'cleared': return t.cleared(nameOf(`tank/${value.tank}`));
    case 'checked': return value.signs?.length ? t.seen(value.signs.join(', ')) : value.night ? t.searched : withSign(one) ? t.checkedElse : t.checked;
    case 'sign': return t.sign(value.what, gradeWord(value.grade));
    case 'confirmed': return t.confirmed(dayName(value.day ?? today, today));
    case 'settled': return t.settled(value.how);
    case 'dipped': case 'treated': return t[what](value.how, value.planned);
    case 'parted': return t.parted(nameOf(`specimen/${value.into}`));
    case 'joined': case 'left': return t[what](nameOf(`system/${value.system}`));
    case 'waterChanged': return t.waterChanged(value.litres > 0 ? litres(value.litres) : '', value.from === 'system' ? nameOf(`system/${value.system}`) || t.from.system : /** @type {Record<string, string>} */ (t.from)[value.from] ?? value.from);
    case 'trimmed': return t.trimmed(much(value.amount));
    case 'fed': return t.fed(value.what ?? '');
    case 'merged': return t.merged(nameOf(`specimen/${value.into}`));
    case 'died': return t.died(value.percent ? `${value.percent} %` : much(value.amount), value.explained ?? '', value.suspected ?? '');
    case 'gone': return t.gone(value.how, value.to ?? '');
    case 'graduated': return t.graduated;
    case 'overruled': return t.overruled(/** @type {Record<string, string>} */ (t.over)[value.what] ?? value.what, value.reason);
    case 'toppedUp': return t.toppedUp(value.litres ? litres(value.litres) : '');
    case 'acclimated': return value.ended ? (value.how === 'broken off' ? t.acclimationOff : t.acclimated) : t.acclimates;
    default: return what;
  }
}

/** @param {string} grade */
export const gradeWord = (grade) => /** @type {Record<string, string>} */ (text.grades)[grade] ?? text.grades.unsure;

const PART = 20;

/** @param {{list: Happened[], self?: string}} props self: what the page is about, which needs no name */
export function Log({ list, self }) {
  const t = text.log;
  const shown = useSignal(PART);
  const asking = useSignal('');
  const notes = new Map(picture.value?.notes.map(({ event, why }) => [event, why]));
  const off = async (/** @type {string} */ id) => {
    const kept = await write('event', id, { deleted: true });
    asking.value = '';
    announce(kept ? text.due.undone : text.unkept);
    document.getElementById('log')?.focus();
  };
  if (list.length === 0) return html`<p class="soft">${t.none}</p>`;
  return html`<ol class="log">${list.slice(0, shown.value).map((one) => html`<li key=${one.id} data-event=${one.what} data-id=${one.id}>
      <p><span class="soft">${dayAndClock(one.at, zone.value)}</span>
        <span>${one.of && one.of !== self && html`<b>${nameOf(one.of) || text.unnamed}</b>: `}${eventWords(one)}${one.note && html` <span class="soft">${one.note}</span>`}</span>
        <span class="soft">${one.by ? nameOf(`member/${one.by}`) : ''}</span>
        ${notes.has(one.id) && html`<span class="overdue" data-note=${notes.get(one.id)}>${/** @type {Record<string, string>} */ (t.notes)[notes.get(one.id) ?? ''] ?? notes.get(one.id)}</span>`}</p>
      ${one.photos.length > 0 && html`<ul class="thumbs">${one.photos.map((sha, i) => html`<li key=${sha}><${Thumb} sha=${sha} alt=${all.photo.alt(i + 1)} /></li>`)}</ul>`}
      ${may.value.decide && (asking.value === one.id
        ? html`<${Confirm} asks=${t.offAsk} says=${t.offWhat} does=${t.offDo} act=${() => off(one.id)} leave=${() => (asking.value = '')} />`
        : html`<button type="button" class="quiet" data-do="off" aria-label=${text.due.label(t.off, eventWords(one))} onClick=${() => (asking.value = one.id)}>${t.off}</button>`)}
    </li>`)}</ol>
    ${list.length > shown.value && html`<button type="button" class="quiet" data-do="more" onClick=${() => (shown.value += PART)}>${text.home.more}</button>`}`;
}
