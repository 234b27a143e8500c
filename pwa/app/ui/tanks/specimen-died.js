// A death, or a leaving for good. A death that nobody can explain starts the wait anew for all
// in that water; of a weed a part may be lost.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Field } from '../parts/field.js';
import { Link } from '../parts/link.js';
import { Choices } from '../shore/find-parts.js';
import { nameOf, systemOf, writeEvent } from './picture-state.js';
import { observer } from './check-who.js';
import { isWeed } from './settle-in.js';
import { ActForm, wordsWrong } from './specimen-act.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @param {{one: import('./specimen-page.js').Specimen}} props */
export function DiedForm({ one }) {
  const t = text.died;
  const known = useSignal('no');
  const why = useSignal('');
  const part = useSignal('');
  const wrong = useSignal(/** @type {{why?: string, part?: string}} */ ({}));
  const counted = one.amount?.unit === 'count' && one.amount.value > 1;
  const weed = isWeed(one.group ?? '');
  const note = async () => {
    const typed = part.value.trim().replace(',', '.');
    const most = weed ? 100 : one.amount?.value ?? 1;
    const n = typed === '' ? undefined : Number(typed);
    wrong.value = {
      why: known.value === 'yes' ? wordsWrong(why.value, t.needWhy) : '',
      part: n === undefined || (n > 0 && n <= most && (weed || Number.isInteger(n))) ? '' : weed ? t.needPercent : t.needNumber(most),
    };
    if (wrong.value.why || wrong.value.part) return { wrong: [wrong.value.why, wrong.value.part].filter(Boolean).join(' ') };
    const share = weed && n !== undefined && n < 100 && one.amount ? { value: Math.round(one.amount.value * n * 10) / 1000, unit: one.amount.unit } : !weed && n !== undefined && n < most ? { value: n, unit: 'count' } : undefined;
    if (weed && n !== undefined && n < 100 && !share) return writeEvent('died', { of: `specimen/${one.id}`, by: observer.peek(), explained: known.value === 'yes' ? why.value.trim() : null, amount: { value: 0, unit: 'g' } }, t.lost(n));
    return writeEvent('died', { of: `specimen/${one.id}`, by: observer.peek(), explained: known.value === 'yes' ? why.value.trim() : null, ...(share ? { amount: share } : {}) }, weed && n !== undefined && n < 100 ? t.lost(n) : undefined);
  };
  const mates = (systemOf(one.state?.system ?? '')?.state?.residents.length ?? 1) - 1;
  return html`<${ActForm} back=${`/tanks/specimen/${one.id}`} does=${t.do} said=${t.done(nameOf(`specimen/${one.id}`))} grave note=${note}>
    <${Choices} name="known" legend=${t.known} is=${known.value} choose=${(/** @type {string} */ is) => (known.value = is)} options=${[['no', t.no], ['yes', t.yes]]} />
    ${known.value === 'yes' ? html`<${Field} id="why" label=${t.why} hint=${t.whyHint} value=${why} mode="text" wrong=${wrong.value.why} />` : html`<p class="heed" data-restarts>${t.restarts(mates)}</p>`}
    ${(counted || weed) && html`<${Field} id="part" label=${weed ? t.percent : t.number(one.amount?.value ?? 1)} hint=${weed ? t.percentHint : t.numberHint} value=${part} mode="decimal" wrong=${wrong.value.part} />`}
    <p class="soft">${t.then}</p>
  <//>
  <p class="doing"><${Link} class="button" to="/tanks/trouble">${text.home.trouble}<//></p>`;
}

/** @param {{one: import('./specimen-page.js').Specimen}} props */
export function GoneForm({ one }) {
  const t = text.goneForm;
  const how = useSignal('disposed of');
  const to = useSignal('');
  const wrong = useSignal('');
  const forbids = one.state?.handOn ?? ['waiting'];
  const note = async () => {
    wrong.value = how.value === 'given away' ? wordsWrong(to.value, t.needTo) : wordsWrong(to.value, '');
    if (wrong.value) return { wrong: wrong.value };
    return writeEvent('gone', { of: `specimen/${one.id}`, by: observer.peek(), how: how.value, ...(to.value.trim() ? { to: to.value.trim() } : {}) });
  };
  const options = [['disposed of', t.disposed], ['lost', t.lost], ...(forbids.length === 0 ? [['given away', t.given]] : [])];
  return html`<${ActForm} back=${`/tanks/specimen/${one.id}`} does=${t.do} said=${t.done(nameOf(`specimen/${one.id}`))} grave note=${note}>
    <p class="heed">${t.never}</p>
    <${Choices} name="how" legend=${t.how} is=${how.value} choose=${(/** @type {string} */ is) => (how.value = is)} options=${options} />
    ${forbids.length > 0 && html`<p class="soft">${t.notGiven}</p>`}
    ${how.value === 'given away' && html`<${Field} id="to-whom" label=${t.to} value=${to} mode="text" wrong=${wrong.value} />`}
  <//>
  <p class="doing"><${Link} class="button" to=${`/tanks/disposal/${one.id}`}>${t.disposal}<//>${forbids.length === 0 && html`<${Link} class="button" to=${`/tanks/hand-on/${one.id}`}>${text.specimen.handOn}<//>`}</p>`;
}
