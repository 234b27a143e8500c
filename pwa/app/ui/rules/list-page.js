// The rule sets on file, with the age of each.

import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { rulesRead } from '../../data/rules.js';
import { Page } from '../house/page.js';
import { AgeLine } from './age-line.js';
import { DaysForm } from './days-form.js';
import { sourceWords } from './says-list.js';
import { isKeeper, isOwn, mayWrite, nameOf, rulesOf, sets, shores } from './on-file.js';
import { rules as t } from '../../text/en-rules.js';

/** What a page has just done, to be said once the list is there. */
export const justDone = signal('');

export function ListPage() {
  useEffect(() => {
    if (justDone.peek()) announce(justDone.peek());
    justDone.value = '';
  }, []);
  const law = sets.value.filter((one) => !isOwn(one));
  const own = sets.value.filter(isOwn);
  return html`<${Page} title=${t.title}>
    <p class="heed" data-above>${t.above}</p>
    <div class="rules-cols"><div>
    <section aria-labelledby="law" data-list="law"><h2 id="law">${t.law}</h2>
      ${law.length === 0 && rulesRead.value && html`<p>${t.none}</p>`}
      <${SetList} list=${law} />
    </section>
    ${mayWrite.value ? html`<div class="actions">
      <${Link} class="button" to="/house/rules/import" data-do="bring">${t.bring}<//>
      <${Link} class="button" to="/house/rules/write" data-do="write">${t.write}<//></div>` : html`<p class="soft" data-reads>${t.reads}</p>`}
    </div><div>
    <section aria-labelledby="own" data-list="own"><h2 id="own">${t.own}</h2>
      <p class="soft">${t.ownWhy}</p>
      ${own.length === 0 && rulesRead.value && html`<p>${t.ownNone}</p>`}
      <${SetList} list=${own} />
      ${mayWrite.value && html`<${Link} class="button" to="/house/rules/own" data-do="own">${t.writeOwn}<//>`}
    </section>
    <${DaysForm} />
    ${isKeeper.value && html`<nav class="rows" aria-label=${t.papers.title}><${Link} to="/house/rules/papers" data-do="papers"><strong>${t.papers.title}</strong><span class="soft">${t.papers.hint}</span><//></nav>`}
    </div></div>
    <${Link} class="button main" to="/house/rules/try" data-do="try">${t.try}<//>
  <//>`;
}

/** @param {{list: import('./on-file.js').OnFile[]}} props */
function SetList({ list }) {
  return html`<ul class="set-list">${list.map((one) => html`<li key=${one.id}><${Link} to=${`/house/rules/set/${one.id}`} data-set=${one.id}>
    <strong>${nameOf(one)}</strong>
    <${AgeLine} of=${one} long=${true} />
    ${!isOwn(one) && html`<span>${t.layers[one.document.layer] ?? ''} · ${one.document.authority} (${one.document.ask})</span>
      <span class="soft">${sourceWords(one.document)}</span>`}
    <span class="soft">${t.count(rulesOf(one).length)} · ${shoreNames(one)}</span>
  <//></li>`)}</ul>`;
}

/**
 * Which of the household's shores a set is for, in words.
 * @param {import('./on-file.js').OnFile} of
 */
export function shoreNames({ document, shores: chosen, elsewhere }) {
  if (!document.area?.everywhere) return t.set.shoresDrawn;
  if (chosen === null) return t.set.shoresUnsaid;
  const named = (/** @type {(id: string) => boolean} */ is) => shores.value.filter(({ id }) => is(id)).map(({ name }) => name).join(', ');
  const open = named((id) => !chosen.includes(id) && !elsewhere?.includes(id));
  return `${named((id) => chosen.includes(id)) || t.set.shoresNone}${open ? ` ${t.set.shoresOpen(open)}` : ''}`;
}
