// What rules ask of persons: the year of birth, and the licences, rights and consents that the
// sets on file name. Rules compare by name, so the names are theirs. Keepers write it.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { records, write } from '../../data/book.js';
import { uuidv7 } from '../../data/ids.js';
import { Page } from '../house/page.js';
import { TextIn, Tick, toWrong } from './inputs.js';
import { papersNamed } from './named.js';
import { isKeeper, sets } from './on-file.js';
import { changesOf, heldOf } from './paper-fields.js';
import { rules } from '../../text/en-rules.js';

/** @typedef {import('./named.js').Papers} Papers */

export function PapersPage() {
  const t = rules.papers;
  const back = { to: '/house/rules', back: rules.back };
  if (!isKeeper.value) return html`<${Page} title=${t.title} ...${back}><p>${t.keeper}</p><//>`;
  const people = records('member').value.filter(({ deleted }) => !deleted).sort((a, b) => String(a.fields.name).localeCompare(String(b.fields.name)));
  const named = papersNamed(sets.value);
  return html`<${Page} title=${t.title} ...${back}>
    <p>${t.why}</p>
    ${people.length === 0 && html`<p>${t.none}</p>`}
    ${Object.values(named).every((list) => list.length === 0) && html`<p class="soft">${t.noneNamed}</p>`}
    <div class="papers">${people.map((one) => html`<${PersonForm} key=${one.id} one=${one} named=${named} />`)}</div>
  <//>`;
}

/** @param {{one: import('../../data/book.js').Rec, named: Record<Papers, string[]>}} props */
function PersonForm({ one, named }) {
  const t = rules.papers;
  const held = useSignal(heldOf(one.fields, named));
  const born = useSignal(one.fields.born ? String(one.fields.born) : '');
  const wrong = useSignal('');
  const says = useSignal('');
  const id = (/** @type {string} */ part) => `${part}-${one.id}`;
  /** @param {Event} event */
  const keep = async (event) => {
    event.preventDefault();
    const year = born.peek().trim();
    wrong.value = year && !/^(19|20|21)\d\d$/.test(year) ? t.needBorn : '';
    if (wrong.value) return toWrong();
    const fields = { ...changesOf(one.fields, held.peek(), uuidv7), ...(year !== String(one.fields.born ?? '') ? { born: year ? Number(year) : null } : {}) };
    says.value = (await write('member', one.id, fields)) ? t.kept(String(one.fields.name)) : rules.unkept;
    announce(says.value);
  };
  return html`<form onSubmit=${keep} novalidate data-papers=${one.fields.name}><h2>${one.fields.name}</h2>
    <${TextIn} id=${id('born')} label=${t.born} hint=${t.bornHint} mode="numeric" value=${born.value} set=${(/** @type {string} */ is) => (born.value = is)} wrong=${wrong.value} />
    ${held.value.map((paper, i) => {
      const change = (/** @type {object} */ some) => (held.value = held.peek().map((other, j) => (j === i ? { ...other, ...some } : other)));
      return html`<div class="paper" key=${paper.of + paper.what}>
        <${Tick} label=${t.has[paper.of](paper.what)} name=${`${paper.of}-${i}`} checked=${paper.has} set=${(/** @type {boolean} */ has) => change({ has })} />
        ${paper.has && html`<div class="pair"><${TextIn} id=${id(`until-${i}`)} label=${t.until} type="date" value=${paper.until} set=${(/** @type {string} */ until) => change({ until })} />
          ${paper.of === 'licences' && html`<${TextIn} id=${id(`number-${i}`)} label=${t.number} most=${80} value=${paper.number} set=${(/** @type {string} */ number) => change({ number })} />`}</div>`}</div>`;
    })}
    <p class="soft">${says.value}</p>
    <button type="submit" data-do="keep-papers">${t.keep}</button></form>`;
}
