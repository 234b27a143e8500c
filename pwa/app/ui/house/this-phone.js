// What this phone runs, what it keeps, and what went wrong on it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { copy } from '../parts/send.js';
import { state, call, catalogue as list, catalogueKept, fetchCatalogue } from '../../core.js';
import { persisted } from '../../data/persist.js';
import { record, recorded } from '../../data/errors.js';
import { offlineReady } from '../../sw-bridge.js';
import { here } from './here.js';
import { text } from '../../text/en.js';

export function ThisPhone() {
  const t = text.house;
  const about = useSignal(/** @type {any} */ (undefined));
  useEffect(() => {
    call('about', {}).then((answer) => (about.value = answer), (error) => record(error.message));
  }, [state.value === 'ready', list.value === 'open']);
  const forGood = useSignal(false);
  useEffect(() => void persisted().then((is) => (forGood.value = is)), []);

  const a = about.value;
  const catalogue = a?.catalogue ? `${a.catalogue.release} · ${t.stations(a.catalogue.stations)}` : t.unknown;
  return html`
    <section aria-labelledby="this-phone">
      <h2 id="this-phone">${t.thisPhone}</h2>
      <dl class="facts">
        <dt>${t.offline}</dt><dd data-fact="offline" data-ready=${String(offlineReady.value)}>${offlineReady.value ? t.offlineReady : t.offlineNot}</dd>
        <dt>${t.list}</dt><dd data-fact="list" data-ready=${String(catalogueKept.value)}>${catalogueKept.value ? t.listKept : list.value === 'open' ? t.listUnkept : t.listNot}
          ${(list.value === 'wanted' || list.value === 'failed') && html`<button type="button" class="quiet" data-do="fetch" onClick=${fetchCatalogue}>${text.catalogue.fetch}</button>`}</dd>
        <dt>${t.storage}</dt><dd data-fact="storage" data-ready=${String(forGood.value)}>${forGood.value ? text.install.persisted : text.install.notPersisted}</dd>
        <dt>${t.version}</dt><dd data-fact="build">${BUILD}</dd>
        <dt>${t.core}</dt><dd data-fact="core">${a?.core ?? t.unknown}</dd>
        <dt>${t.zones}</dt><dd data-fact="zones">${a?.zones ?? t.unknown}</dd>
        <dt>${t.catalogue}</dt><dd data-fact="catalogue">${catalogue}</dd>
      </dl>
    </section>
    <${Errors} />`;
}

function Errors() {
  const t = text.house;
  const errors = useSignal(/** @type {import('../../data/errors.js').Recorded[]} */ ([]));
  const says = useSignal('');
  useEffect(() => void recorded().then((list) => (errors.value = list)), []);
  const take = async () => {
    const lines = errors.value.map(({ at, build, what }) => `${at} ${build} ${what}`);
    says.value = (await copy(lines.join('\n'))) ? t.errorsCopied : t.errorsNotCopied;
    announce(says.value);
  };
  return html`<section aria-labelledby="errors">
    <h2 id="errors">${t.errors}</h2>
    ${errors.value.length === 0
      ? html`<p>${t.noErrors}</p>`
      : html`<ol class="errors">${errors.value.map((e) => html`<li><time datetime=${e.at}>${here(Date.parse(e.at))}</time> ${e.what}</li>`)}</ol>
        <p><button type="button" class="quiet" data-do="copy-errors" onClick=${take}>${t.copyErrors}</button> <span class="soft">${says.value}</span></p>`}
  </section>`;
}
