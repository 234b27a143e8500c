// The history of any record.

import { html } from '../parts/html.js';
import { History } from '../parts/history.js';
import { called, recallKinds } from '../parts/kinds.js';
import { records } from '../../data/book.js';
import { useEffect } from 'preact/hooks';
import { Page } from './page.js';
import { text } from '../../text/en.js';

/**
 * Where each kind of record has its page.
 * @type {Record<string, (id: string) => string>}
 */
const PAGES = {
  find: (id) => `/shore/find/${id}`, outing: (id) => `/shore/outings/${id}`, shore: (id) => `/plan/shore/${id}`, member: (id) => `/house/members/${id}`,
  specimen: (id) => `/tanks/specimen/${id}`, tank: (id) => `/tanks/tank/${id}`, system: (id) => `/tanks/system/system/${id}`,
};

/** @param {{kind: string, id: string}} props */
export function HistoryPage({ kind, id }) {
  const t = text.history;
  useEffect(() => void recallKinds(), []);
  const known = kind in PAGES || kind in t.kinds;
  const fields = known ? records(kind).value.find((one) => one.id === id)?.fields : undefined;
  const name = fields?.name ?? (fields?.taxon && called(fields.taxon)) ?? t.kinds[kind] ?? '';
  return html`<${Page} title=${t.title} to=${PAGES[kind]?.(id) ?? '/house'} back=${t.back}>
    ${name && html`<p><strong>${name}</strong></p>`}
    <p>${t.what}</p>
    ${known ? html`<${History} kind=${kind} id=${id} />` : html`<p>${t.none}</p>`}
  <//>`;
}
