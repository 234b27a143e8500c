// The history of a set: every version of what it said, every check, who wrote it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { recallKinds } from '../parts/kinds.js';
import { clock, localDay } from '../parts/when.js';
import { records } from '../../data/book.js';
import { pastOf } from '../../data/past.js';
import { thisDevice } from '../../data/this-device.js';
import { Page } from '../house/page.js';
import { monthDay } from './days.js';
import { shores } from './on-file.js';
import { SaysList, SetFacts } from './says-list.js';
import { rules } from '../../text/en-rules.js';
import { text } from '../../text/en.js';

/** House is about phones: times are on this phone's clock. */
const HERE = Intl.DateTimeFormat().resolvedOptions().timeZone ?? 'UTC';

/** @typedef {Awaited<ReturnType<typeof pastOf>>} Past */

/** @param {{id: string}} props */
export function PastPage({ id }) {
  const t = rules.past;
  const past = useSignal(/** @type {Past | undefined} */ (undefined));
  const failed = useSignal(false);
  const rec = records('ruleset').value.find((one) => one.id === id);
  useEffect(() => void recallKinds(), []);
  useEffect(() => {
    pastOf('ruleset', id).then((found) => (past.value = found), () => (failed.value = true));
  }, [id, rec]);
  const of = (/** @type {string} */ field) => past.value?.find((one) => one.field === field)?.versions;
  const inShores = (past.value ?? []).filter(({ field }) => field.startsWith('shores/')).flatMap(({ field, versions }) => versions.map((one) => ({
    ...one, change: one.change + field, value: t.shore(shores.value.find((shore) => `shores/${shore.id}` === field)?.name ?? '', one.value) }))).sort((a, b) => (a.written < b.written ? -1 : 1));
  const name = String(rec?.fields.document?.name ?? '');
  return html`<${Page} title=${t.title} to=${rec && !rec.deleted ? `/house/rules/set/${id}` : '/house/rules'} back=${name || rules.back}>
    ${name && html`<p><strong>${name}</strong></p>`}<p>${t.what}</p>
    ${failed.value ? html`<p class="wrong">${text.history.failed}</p>` : !past.value ? html`<p>${text.history.coming}</p>` : past.value.length === 0 && html`<p>${text.history.none}</p>`}
    <${Versions} title=${t.versions} of=${of('document')} name="document" says=${(/** @type {any} */ document) => html`<strong>${document?.name ?? ''}</strong>
      ${document && html`<details><summary>${t.show}</summary><${SetFacts} document=${document} /><${SaysList} rules=${Object.entries(document.rules ?? {})} /></details>`}`} />
    <${Versions} title=${t.checks} of=${of('checked')} name="checked" says=${(/** @type {any} */ one) => html`<strong>${one ? t.check(monthDay(one.on), one.by) : t.noCheck}</strong>`} />
    <${Versions} title=${t.shores} of=${inShores.length > 0 ? inShores : undefined} name="shores" says=${(/** @type {any} */ words) => html`<strong>${words}</strong>`} />
    <${Versions} title=${t.taken} of=${of('deleted')} name="deleted" says=${(/** @type {any} */ off) => html`<strong>${off ? t.off : t.on}</strong>`} />
  <//>`;
}

/** @param {{title: string, name: string, of?: Past[number]['versions'], says: (value: any) => any}} props */
function Versions({ title, name, of, says }) {
  const t = rules.past;
  const names = new Map(records('device').value.map(({ id, fields }) => [id, String(fields.name ?? '')]));
  if (!of) return null;
  return html`<section data-past=${name}><h2>${title}</h2><ol class="versions">${[...of].reverse().map((one) => html`<li key=${one.change} data-stands=${one.stands}>
    ${says(one.value)}
    <span class="soft">${t.by(one.device === thisDevice.value ? text.history.here : names.get(one.device) || text.history.unknown, `${monthDay(localDay(Date.parse(one.written), HERE))}, ${clock(one.written, HERE)}`)}${one.stands ? ` · ${t.stands}` : ''}${one.refused ? ` · ${text.history.refused}: ${one.refused}` : ''}</span></li>`)}</ol></section>`;
}
