// How much is handed on, to whom, and that they know.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Field } from '../parts/field.js';
import { flagsNamed, regionNames } from '../parts/kinds.js';
import { amountOf } from '../shore/amount.js';
import { observer } from './check-who.js';
import { giveAway } from './hand-on-write.js';
import { mayHandOn } from './picture-state.js';
import { fate } from '../../text/en-tank-fate.js';
import { paper } from '../../text/en-tank-paper.js';
import { text } from '../../text/en.js';

/** Letters, as internal/book has it. */
const MOST_TO = 300;

/** @param {{one: any, name: string, done: (given: import('./hand-on-write.js').Given) => void}} props */
export function HandOnForm({ one, name, done }) {
  const t = fate.handOn;
  const whole = useSignal(false);
  const amount = useSignal('');
  const use = useSignal(/** @type {keyof typeof t.uses} */ ('friend'));
  const to = useSignal('');
  const told = useSignal(false);
  const busy = useSignal(false);
  const wrong = useSignal(/** @type {Record<string, string | undefined>} */ ({}));
  const unit = one.amount?.unit ?? 'count';

  /** @param {Event} event */
  const submit = async (event) => {
    event.preventDefault();
    if (busy.value) return;
    const typed = whole.value ? '' : amount.value.trim();
    const n = typed ? amountOf(typed, unit) : undefined;
    const whom = to.value.trim();
    const says = t.sentence(t.uses[use.value], whom);
    wrong.value = {
      amount: typed && !n ? t.wrong.amount : n !== undefined && one.amount && n >= one.amount.value ? t.wrong.more : undefined,
      to: !whom ? t.wrong.to : Array.from(says).length > MOST_TO ? t.wrong.long : undefined,
      told: told.value ? undefined : t.wrong.accept,
    };
    const bad = Object.values(wrong.value).filter(Boolean);
    if (bad.length > 0) {
      announce(bad.join(' '));
      return void requestAnimationFrame(() => /** @type {HTMLElement | null} */ (document.querySelector('.hand-on [aria-invalid="true"]'))?.focus());
    }
    busy.value = true;
    if (!(await mayHandOn(one.id))) {
      busy.value = false;
      return void (wrong.value = { form: t.stale });
    }
    const given = await giveAway(one, { whole: whole.value, amount: n === undefined ? undefined : { value: n, unit }, to: says, by: observer.peek() });
    busy.value = false;
    if (!given.kept) return void (wrong.value = { form: paper.unkept });
    announce(t.done(name, says));
    done(given);
  };
  return html`<form class="hand-on" data-hand-on="allowed" onSubmit=${submit} novalidate>
    <${Cautions} taxon=${one.taxon} />
    <fieldset class="field"><legend>${t.howMuch}</legend>
      ${[false, true].map((is) => html`<label class="check"><input type="radio" name="how-much" value=${is ? 'whole' : 'part'} checked=${whole.value === is} onChange=${() => (whole.value = is)} /><span>${is ? t.whole : t.part}</span></label>`)}
    </fieldset>
    ${!whole.value && html`<${Field} id="part-amount" label=${`${t.amount}, ${text.finds.unitNames[/** @type {'count'} */ (unit)]}`} hint=${one.amount ? t.amountHint(text.finds.amount(one.amount.value, one.amount.unit)) : t.amountNoHint} value=${amount} mode="decimal" wrong=${wrong.value.amount} />`}
    <fieldset class="field"><legend>${t.as}</legend>
      ${Object.entries(t.uses).map(([is, label]) => html`<label class="check"><input type="radio" name="use" value=${is} checked=${use.value === is} onChange=${() => (use.value = /** @type {any} */ (is))} /><span>${label}</span></label>`)}
    </fieldset>
    <${Field} id="to-whom" label=${t.to} hint=${t.toHint} value=${to} mode="text" wrong=${wrong.value.to} />
    <label class="check"><input type="checkbox" id="told" checked=${told.value} aria-invalid=${Boolean(wrong.value.told)} aria-describedby="told-wrong" onChange=${(/** @type {any} */ e) => (told.value = e.target.checked)} /><span>${t.accept}</span></label>
    <p id="told-wrong" class="wrong">${wrong.value.told}</p>
    <p class="wrong" role="alert">${wrong.value.form}</p>
    <button type="submit" class="main" data-do="hand-on" aria-disabled=${busy.value}>${t.do}</button>
  </form>`;
}

/**
 * What the law may say: nothing here speaks for it.
 * @param {{taxon: string}} props
 */
function Cautions({ taxon }) {
  const t = fate.handOn;
  const regions = regionNames(flagsNamed(taxon)?.invasive ?? []);
  return html`<p class="heed">${t.caution}${regions && ` ${t.invasive(regions)}`}</p>`;
}
