// What was taken of each limit on file, by each and by the party, as the day's page shows it.

import { html } from '../parts/html.js';
import { called } from '../parts/kinds.js';
import { shores } from '../plan/shore-state.js';
import { here, nameOf } from './finds-state.js';
import { outings } from './outing-state.js';
import { useOnFile } from './on-file-state.js';
import { VerdictShape } from './verdict.js';
import { takes } from '../../text/en-takes.js';
import { verdict } from '../../text/en-verdict.js';

/** @param {{finds: import('./find.js').Find[]}} props of one day, newest first */
export function Tally({ finds }) {
  const taken = finds.filter(({ fate }) => fate === 'taken');
  const places = new Map(taken.map(({ shore, outing }) => [`${shore} ${outing}`, { shore, outing }]));
  return html`${[...places].map(([key, { shore, outing }]) => html`<${Place} key=${key} shore=${shore} outing=${outing} finds=${taken.filter((one) => one.shore === shore && one.outing === outing)} several=${places.size > 1} />`)}`;
}

/** @param {{shore: string | null, outing: string | null, finds: import('./find.js').Find[], several: boolean}} props */
function Place({ shore, outing, finds, several }) {
  const t = verdict.tally;
  const at = shore ? shores.value.find(({ id }) => id === shore) : here.value; // of a shore that is deleted nothing is reckoned
  const found = useOnFile({
    shore: at, outing: outings.value.find(({ id }) => id === outing), at: finds[0].fields.at, people: [...new Set(finds.flatMap(({ by }) => by ?? []))],
  });
  const rows = (found?.sets ?? []).flatMap((set) => set.rules.flatMap((/** @type {any} */ rule) => rule.tallies.flatMap((/** @type {any} */ tally) => {
    // What was taken and not weighed adds nothing to a count; its line says what is not known.
    const lines = tally.lines.filter((/** @type {any} */ { count }) => count.taken > 0 || count.mayAlso > 0 || count.finds.length + count.findsMore > 0);
    return lines.length > 0 ? [{ key: `${set.id} ${rule.id} ${tally.text}`, set, rule, tally, lines }] : [];
  })));
  return html`<section class="tally" aria-label=${several && at ? `${t.title}: ${at.name}` : t.title} data-tally=${found ? rows.length : 'none'}>
    <h2>${several && at ? `${t.title}: ${at.name}` : t.title}</h2>
    ${found?.sets.some(({ fault }) => fault) && html`<p class="heed" data-unread><strong>${t.unread}</strong></p>`}
    ${!found ? html`<p>${t.waiting}</p>` : rows.length === 0 ? html`<p>${found.sets.length > 0 ? t.none : takes.noRules}</p>` : html`<ul>${rows.map(({ key, set, rule, tally, lines }) => html`<li key=${key}>
      <h3>${called(rule.of)}: ${tally.text}</h3><p class="soft">${set.layer === 'household' ? verdict.ours : set.name}${set.stale ? `. ${verdict.stale}` : ''}</p>
      <ul>${lines.map((/** @type {any} */ { by, taxon, verdict: is, text: words }) => html`<li key=${by + taxon} data-line=${is} data-verdict=${is}><${VerdictShape} of=${is} />
        <p>${[nameOf(by), taxon].filter(Boolean).join(', ')}${by || taxon ? ': ' : ''}${words} ${is !== 'within' && html`<strong>${t.is[is]}</strong>`}</p></li>`)}</ul></li>`)}</ul>`}
  </section>`;
}
