// Past outings by date.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { now } from '../parts/now.js';
import { clock, dayName, localDay } from '../parts/when.js';
import { shores } from '../plan/shore-state.js';
import { FindFrame } from './find-frame.js';
import { countsByOuting, zoneOf } from './finds-state.js';
import { outings } from './outing-state.js';
import { text } from '../../text/en.js';

/** @typedef {import('./outing.js').Outing} Outing */

const PART = 30;

/**
 * When it began or is planned to, Unix milliseconds.
 * @param {Outing} outing
 */
export const beganMs = ({ startedMs, planned }) => startedMs ?? (planned ? Date.parse(planned.from) : 0);

/**
 * "Sat 12 Dec, 06:48 – 08:55".
 * @param {Outing} outing
 */
export function spanOf(outing) {
  const from = beganMs(outing);
  if (!from) return '';
  const zone = zoneOf(outing.shore);
  const at = (/** @type {number} */ ms) => clock(new Date(ms).toISOString(), zone);
  return `${dayName(localDay(from, zone), localDay(now.value, zone))}, ${at(from)}${outing.endedMs ? ` – ${at(outing.endedMs)}` : ''}`;
}

/** @param {Outing} outing */
export const shoreName = ({ shore }) => shores.value.find(({ id }) => id === shore)?.name ?? text.outings.unknownShore;

export function OutingsPage() {
  const t = text.outings;
  const shown = useSignal(PART);
  const list = outings.value;
  return html`<${FindFrame} title=${t.title}>
    ${list.length === 0 && html`<p>${t.none}</p>`}
    <ol class="finds-list">${list.slice(0, shown.value).map((outing) => html`<li key=${outing.id} data-outing=${outing.id}><${Link} to=${`/shore/outings/${outing.id}`}><span>
      <strong>${shoreName(outing)}</strong><span>${spanOf(outing)}</span>
      <span class="soft">${[outing.startedMs === null ? t.planned : outing.endedMs === null ? t.under : '', t.finds(countsByOuting.value.get(outing.id) ?? 0)].filter(Boolean).join(' · ')}</span></span><//></li>`)}</ol>
    ${list.length > shown.value && html`<button type="button" class="quiet" onClick=${() => (shown.value += PART)}>${t.more}</button>`}
  <//>`;
}
