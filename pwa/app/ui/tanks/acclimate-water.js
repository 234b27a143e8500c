// What to do with water that something travelled in: never into a system. Where the sink
// drains is asked once.

import { computed } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { householdFields, setHousehold } from '../../data/household.js';
import { may } from './picture-state.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.drain;

/** Where the sink drains: sea, sewer, septic, unknown; '' where nobody was asked yet. */
export const drain = computed(() => String(householdFields.value.sinkDrain ?? ''));

const KINDS = /** @type {const} */ (['sewer', 'septic', 'sea', 'unknown']);

/** @param {{changed?: boolean}} props changed: what was taken out at a change, and not what something came in */
export function OldWater({ changed }) {
  const is = drain.value;
  const choose = async (/** @type {string} */ to) => announce((await setHousehold({ sinkDrain: to })) ? t.kept : all.unkept);
  return html`<section class="old-water" data-drain=${is || 'unasked'} aria-labelledby="old-water"><h2 id="old-water">${changed ? t.titleChanged : t.title}</h2>
    <p><strong>${t.never}</strong></p>
    ${is && html`<p>${t.does[is] ?? t.does.unknown}</p>`}
    ${may.value.decide && (!is ? html`<${AskDrain} is=${is} choose=${choose} />` : html`<details><summary>${t.change}</summary><${AskDrain} is=${is} choose=${choose} /></details>`)}
    ${!is && html`<p>${t.does.unknown}</p>`}
  </section>`;
}

/** @param {{is: string, choose: (to: string) => void}} props */
export const AskDrain = ({ is, choose }) => html`<fieldset class="field"><legend>${t.ask}</legend><div class="tank-options">${KINDS.map((one) => html`<label class="option"><input type="radio" name="drain" value=${one} checked=${is === one} onChange=${() => choose(one)} />
  ${t.kinds[one]}</label>`)}</div><p class="soft">${t.askHint}</p></fieldset>`;
