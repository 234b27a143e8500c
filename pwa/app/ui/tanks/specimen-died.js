// A death, or a leaving for good. A death that nobody can explain starts the wait anew for all
// in that water; of a weed a part may be lost.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { Field } from '../parts/field.js';
import { Link } from '../parts/link.js';
import { Choices } from '../shore/find-parts.js';
import { mayHandOn, nameOf, systemOf, writeEvent } from './picture-state.js';
import { isChild, observer } from './check-who.js';
import { isWeed } from './settle-in.js';
import { ActForm, wordsWrong } from './specimen-act.js';
import { typedNumber } from './tank-units.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @param {{one: import('./specimen-page.js').Specimen}} props */
export function DiedForm({ one }) {
  const t = text.died;
  const known = useSignal('no');
  const why = useSignal('');
  const part = useSignal('');
  const wrong = useSignal(/** @type {{why?: string, part?: string}} */ ({}));
  const counted = one.amount?.unit === 'count' && one.amount.value > 1;
  const weed = isWeed(one.group);
  const note = async () => {
    const n = typedNumber(part.value);
    const most = weed ? 100 : one.amount?.value ?? 1;
    wrong.value = {
      why: wordsWrong(why.value, known.value === 'yes' ? t.needWhy : ''),
      part: n === undefined || (n > 0 && n <= most && (weed || Number.isInteger(n))) ? '' : weed ? t.needPercent : t.needNumber(most),
    };
    if (wrong.value.why || wrong.value.part) return { wrong: [wrong.value.why, wrong.value.part].filter(Boolean).join(' ') };
    const known_ = known.value === 'yes';
    const words = why.value.trim();
    return writeEvent('died', {
      of: `specimen/${one.id}`, by: observer.peek(), explained: known_ ? words : null, ...(!known_ && words ? { suspected: words } : {}),
      ...(n === undefined || n >= most ? {} : weed ? { percent: n } : { amount: { value: n, unit: 'count' } }),
    });
  };
  const mates = (systemOf(one.state?.system ?? '')?.state?.residents.length ?? 1) - 1;
  return html`<${ActForm} back=${`/tanks/specimen/${one.id}`} does=${t.do} said=${t.done(nameOf(`specimen/${one.id}`))} grave note=${note}>
    ${!isChild.value && html`<${Choices} name="known" legend=${t.known} is=${known.value} choose=${(/** @type {string} */ is) => (known.value = is)} options=${[['no', t.no], ['yes', t.yes]]} />`}
    ${known.value === 'no' && html`<p class="heed" data-restarts>${t.restarts(mates)}</p>`}
    <${Field} id="why" label=${known.value === 'yes' ? t.why : t.suspected} hint=${known.value === 'yes' ? t.whyHint : t.suspectedHint} value=${why} mode="text" wrong=${wrong.value.why} />
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
    wrong.value = wordsWrong(to.value, how.value === 'given away' ? t.needTo : '');
    if (!wrong.value && how.value === 'given away' && !(await mayHandOn(one.id))) wrong.value = t.stale;
    if (wrong.value) return { wrong: wrong.value };
    return writeEvent('gone', { of: `specimen/${one.id}`, by: observer.peek(), how: how.value, ...(to.value.trim() ? { to: to.value.trim() } : {}) });
  };
  const options = [['disposed of', t.disposed], ['lost', t.lost], ...(forbids.length === 0 ? [['given away', t.given]] : [])];
  return html`<${ActForm} back=${`/tanks/specimen/${one.id}`} does=${t.do} said=${t.done(nameOf(`specimen/${one.id}`))} grave note=${note}>
    <p class="heed">${t.never}</p>
    <${Choices} name="how" legend=${t.how} is=${how.value} choose=${(/** @type {string} */ is) => (how.value = is)} options=${options} />
    ${forbids.includes('stopped') && html`<p class="heed" data-stopped>${t.stopped}</p>`}
    ${forbids.length > 0 && html`<p class="soft">${t.notGiven(text.and(forbids.map((word) => /** @type {Record<string, string>} */ (t.because)[word] ?? word)))}</p>`}
    ${how.value === 'given away' && html`<${Field} id="to-whom" label=${t.to} value=${to} mode="text" wrong=${wrong.value} />`}
  <//>
  <p class="doing"><${Link} class="button" to=${`/tanks/disposal/${one.id}`}>${t.disposal}<//>${forbids.length === 0 && html`<${Link} class="button" to=${`/tanks/hand-on/${one.id}`}>${text.specimen.handOn}<//>`}</p>`;
}
