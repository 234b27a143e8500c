// May we take it? Asked before anything is touched: what, how much, who, and what the rules on
// file say. Nothing is saved; a button carries it over to the log.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { UNSURE, called, taxonNamed } from '../parts/kinds.js';
import { ready, records } from '../../data/book.js';
import { go } from '../route.js';
import { amountAsked } from './amount.js';
import { factsOf } from './find-fields.js';
import { AmountPick, GroupPick, Heed, StatePick, WhoPick } from './find-parts.js';
import { FindFrame } from './find-frame.js';
import { statesOf } from './find.js';
import { here, readsOnly, recallWho, whoNow } from './finds-state.js';
import { KindPick } from './kind-pick.js';
import { empty, set as setDraft } from './log-draft.js';
import { recentOf } from './recent.js';
import { useVerdict, withLastWords } from './verdict-state.js';
import { VerdictLine } from './verdict.js';
import { VerdictPanel } from './verdict-panel.js';
import { takes } from '../../text/en-takes.js';
import { verdict } from '../../text/en-verdict.js';
import { text } from '../../text/en.js';

export function AskPage() {
  const t = verdict.ask;
  const asked = useSignal(empty());
  const recent = useSignal(/** @type {import('./recent.js').Kind[]} */ ([]));
  useEffect(() => {
    recallWho();
    ready('find').then(() => (recent.value = recentOf(records('find').peek(), here.peek()?.id)));
  }, []);
  const now = asked.value;
  const set = (/** @type {Partial<import('./log-draft.js').Written>} */ change) => (asked.value = { ...asked.peek(), ...change });
  const by = now.by === undefined ? whoNow.value : now.by;
  const facts = withLastWords(now);
  const of = useVerdict(now.taxon ? { taxon: now.taxon, group: now.group, state: now.state, amount: amountAsked(now.value, now.unit), by, ...factsOf(facts).fields } : undefined);
  /** @param {import('./recent.js').Kind} kind */
  const choose = ({ taxon, group }) => {
    const is = group || taxonNamed(taxon)?.group || UNSURE;
    set({ taxon, group: is, state: statesOf(is)[0] });
    scrollTo(0, 0);
    requestAnimationFrame(() => document.getElementById('chosen-kind')?.focus());
  };
  const log = async () => {
    await setDraft({ ...now, id: empty().id, by, fate: 'seen' });
    go('/shore/log');
  };
  if (!now.taxon) return html`<${FindFrame} title=${takes.may}><p>${t.hint}</p><${KindPick} recent=${recent.value} choose=${choose} /><//>`;
  const listed = taxonNamed(now.taxon);
  return html`<${FindFrame} title=${takes.may} unseen=${true}>
    <div class="chosen-kind"><h2 id="chosen-kind" tabindex="-1">${called(now.taxon)} ${listed && html`<em class="soft">${listed.name}</em>`}</h2>
      <button type="button" class="quiet" data-do="change" onClick=${() => set(empty())}>${text.log.change}</button></div>
    <${Heed} of=${now} />
    ${!listed && now.taxon !== UNSURE && html`<${GroupPick} of=${now} set=${(/** @type {any} */ change) => set({ ...change, state: statesOf(change.group)[0] })} />`}
    <${AmountPick} of=${now} set=${set} wrong=${amountAsked(now.value, now.unit) ? '' : text.log.needAmount} />
    <${StatePick} of=${now} set=${set} />
    <${WhoPick} by=${by} choose=${(/** @type {string | null} */ who) => set({ by: who })} />
    <${VerdictPanel} of=${of} taxon=${now.taxon} word=${true} facts=${facts} set=${set} />
    <p class="soft">${t.hint}</p>
    ${!readsOnly.value && html`<div class="bottom"><${VerdictLine} of=${of} taking=${false} /><button type="button" class="main" data-do="log" onClick=${log}>${t.log}</button></div>`}
  <//>`;
}
