// Every value that the fields of a record had, as far as this phone has heard.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from './html.js';
import { called, groupName } from './kinds.js';
import { dayAndClock } from './when.js';
import { records } from '../../data/book.js';
import { pastOf } from '../../data/past.js';
import { thisDevice } from '../../data/this-device.js';
import { text } from '../../text/en.js';

const INSTANT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/;
/** House is about phones: times are on this phone's clock. */
const HERE = Intl.DateTimeFormat().resolvedOptions().timeZone ?? 'UTC';

/** @typedef {Awaited<ReturnType<typeof pastOf>>} Past */

/** @param {{kind: string, id: string}} props */
export function History({ kind, id }) {
  const t = text.history;
  const past = useSignal(/** @type {Past | undefined} */ (undefined));
  const failed = useSignal(false);
  const changed = records(kind).value.find((one) => one.id === id);
  useEffect(() => {
    pastOf(kind, id).then((found) => (past.value = found), () => (failed.value = true));
  }, [kind, id, changed]);
  const names = new Map(records('device').value.map(({ id: device, fields }) => [device, String(fields.name ?? '')]));
  if (failed.value) return html`<p class="wrong">${t.failed}</p>`;
  if (!past.value) return html`<p>${t.coming}</p>`;
  if (past.value.length === 0) return html`<p>${t.none}</p>`;
  return html`<div class="history">${past.value.map(({ field, versions }) => html`<section key=${field} data-field=${field}>
    <h2>${fieldName(field)}</h2>
    <ol class="entries">${[...versions].reverse().map((one) => html`<li key=${one.change} data-stands=${one.stands}><p><strong>${valueWords(field, one.value)}</strong>
      <span class="soft">${t.by(one.device === thisDevice.value ? t.here : names.get(one.device) || t.unknown, dayAndClock(one.written, HERE))}</span>
      <span class=${one.stands ? '' : 'soft'}>${one.refused ? `${t.refused}: ${one.refused}` : one.stands ? t.stands : t.lost}${!one.arrived && !one.refused ? ` · ${t.unsent}` : ''}</span></p></li>`)}</ol>
  </section>`)}</div>`;
}

/** @param {string} field */
function fieldName(field) {
  const [set] = field.split('/');
  return text.history.fields[set] ?? set;
}

/**
 * A value in words: what it holds, part by part.
 * @param {string} field
 * @param {any} value
 * @returns {string}
 */
export function valueWords(field, value) {
  const t = text.history;
  if (value === null || value === undefined || value === '') return t.empty;
  if (value === true) return t.yes;
  if (value === false) return t.no;
  if (value === 'noFix') return text.finds.noFix;
  if (field === 'taxon') return called(value);
  if (field === 'group') return groupName(value) || value;
  if (typeof value === 'string') return INSTANT.test(value) ? dayAndClock(value, HERE) : nameIn(value) || value;
  if (Array.isArray(value)) return value.map((one) => valueWords('', one)).join(', ') || t.empty;
  if (typeof value === 'object') {
    if ('unit' in value && 'value' in value) return text.finds.amount(value.value, value.unit);
    return Object.entries(value).map(([part, one]) => `${t.fields[part] ?? part}: ${valueWords(part, one)}`).join('; ');
  }
  return String(value);
}

/**
 * The name of what an id stands for, where the book knows it.
 * @param {string} id
 */
function nameIn(id) {
  if (!/^[0-9a-f]{8}-/.test(id)) return '';
  for (const kind of ['member', 'shore', 'device', 'outing']) {
    const found = records(kind).value.find((one) => one.id === id);
    if (found) return String(found.fields.name ?? text.history.kinds[kind]);
  }
  return '';
}
