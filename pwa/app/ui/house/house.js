// What this phone runs and what went wrong on it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Install } from '../parts/install.js';
import { state, call, catalogue as list, catalogueKept, fetchCatalogue } from '../../core.js';
import { persisted } from '../../data/persist.js';
import { record, recorded } from '../../data/errors.js';
import { offlineReady } from '../../sw-bridge.js';
import { text } from '../../text/en.js';

export function House() {
  const about = useSignal(/** @type {any} */ (undefined));
  const errors = useSignal(/** @type {import('../../data/errors.js').Recorded[]} */ ([]));
  useEffect(() => {
    call('about', {}).then((answer) => (about.value = answer), (error) => record(error.message));
  }, [state.value === 'ready', list.value === 'open']);
  const forGood = useSignal(false);
  useEffect(() => {
    persisted().then((is) => (forGood.value = is));
    recorded().then((list) => (errors.value = list));
  }, []);

  const t = text.house;
  const a = about.value;
  const catalogue = a?.catalogue ? `${a.catalogue.release} · ${t.stations(a.catalogue.stations)}` : t.unknown;
  return html`
    <h1>${t.title}</h1>
    <dl class="facts">
      <dt>${t.version}</dt><dd data-fact="build">${BUILD}</dd>
      <dt>${t.core}</dt><dd data-fact="core">${a?.core ?? t.unknown}</dd>
      <dt>${t.zones}</dt><dd data-fact="zones">${a?.zones ?? t.unknown}</dd>
      <dt>${t.catalogue}</dt><dd data-fact="catalogue">${catalogue}</dd>
      <dt>${t.list}</dt><dd data-fact="list" data-ready=${String(catalogueKept.value)}>${catalogueKept.value ? t.listKept : list.value === 'open' ? t.listUnkept : t.listNot}
        ${(list.value === 'wanted' || list.value === 'failed') && html`<button type="button" class="quiet" data-do="fetch" onClick=${fetchCatalogue}>${text.catalogue.fetch}</button>`}</dd>
      <dt>${t.offline}</dt><dd data-fact="offline" data-ready=${String(offlineReady.value)}>${offlineReady.value ? t.offlineReady : t.offlineNot}</dd>
      <dt>${t.storage}</dt><dd data-fact="storage" data-ready=${String(forGood.value)}>${forGood.value ? text.install.persisted : text.install.notPersisted}</dd>
    </dl>
    <${Install} />
    <h2>${t.errors}</h2>
    ${errors.value.length === 0
      ? html`<p>${t.noErrors}</p>`
      : html`<ol class="errors">${errors.value.map((e) => html`<li><time datetime=${e.at}>${e.at.slice(0, 16).replace('T', ' ')} UTC</time> ${e.what}</li>`)}</ol>`}`;
}
