// A tank as it is added or changed.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { go } from '../route.js';
import { write } from '../../data/book.js';
import { uuidv7 } from '../../data/ids.js';
import { Confirm } from '../house/confirm.js';
import { picture, tanks } from './picture-state.js';
import { Figure, Pick, toFirstWrong, useLeft } from './tank-field.js';
import { useDraft } from './tank-draft.js';
import { RHYTHMS, startOf, TARGETS, tankTyped } from './tank-typed.js';
import { degreeUnit, volumeUnit } from './tank-units.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.form;

/** @param {{tank?: Record<string, any>}} props a new one without */
export function TankForm({ tank }) {
  const draft = useDraft(`tank:${tank?.id ?? 'new'}`, () => startOf(tank, tanks.peek()));
  const left = useLeft();
  const sent = useSignal(false);
  const unkept = useSignal('');
  const asks = useSignal(false);
  const said = tankTyped(draft.typed());
  const form = { draft, doubts: said, left };
  const back = tank ? `/tanks/tank/${tank.id}` : '/tanks';
  const units = /** @type {Record<string, string>} */ ({ ...all.units, alkalinity: draft.fields['alkalinity.unit'].value });
  const lives = tank ? picture.value?.specimens.some((one) => one.tank === tank.id && !one.gone) ?? true : false;

  /** @param {Event} event */
  const save = async (event) => {
    event.preventDefault();
    if (sent.value) return;
    left.all();
    const { fields, wrong, ask } = tankTyped(draft.typed());
    if (Object.keys({ ...wrong, ...ask }).length > 0) {
      announce(all.wrongHead);
      return toFirstWrong();
    }
    sent.value = true;
    const id = tank?.id ?? uuidv7();
    const before = tank ?? {};
    if (fields.volumeL === undefined && before.volumeL > 0) fields.volumeL = 0; // no longer known
    const set = Object.fromEntries(Object.entries(fields).filter(([field, value]) => JSON.stringify(value) !== JSON.stringify(before[field] ?? (value === '' ? '' : null))));
    const kept = await write('tank', id, set);
    sent.value = false;
    if (!kept) return void (unkept.value = all.unkept);
    await draft.end(true);
    go(`/tanks/tank/${id}`);
  };
  const remove = async () => {
    if (!(await write('tank', tank?.id, { deleted: true }))) return void (unkept.value = all.unkept);
    await draft.end(true);
    go('/tanks');
  };

  return html`<form class="tank-form" onSubmit=${save} onFocusOut=${left.leave} novalidate>
    ${draft.found.value && html`<p class="soft" data-draft>${all.draft}</p>`}
    <${Figure} name="name" label=${t.name} text=${true} ...${form} />
    <fieldset class="field"><legend>${t.use}</legend><div class="tank-options">${Object.entries(all.tank.uses).map(([is, words]) => html`<label class="option"><input type="radio" name="use" value=${is}
      checked=${draft.fields.use.value === is} onChange=${() => draft.set({ use: is })} /> <span>${words} <span class="soft">${t.useHints[is]}</span></span></label>`)}</div></fieldset>
    <${Figure} name="volume" label=${t.litres(volumeUnit())} hint=${t.litresHint} ...${form} />
    <fieldset><legend><h2>${t.keeps}</h2></legend><p class="soft">${t.keepsHint}</p>
      <div class="pair"><${Figure} name="salinityLow" label=${t.salinityLow} ...${form} /><${Figure} name="salinityHigh" label=${t.salinityHigh} ...${form} /></div>
      <div class="pair"><${Figure} name="lowC" label=${t.low(degreeUnit())} ...${form} /><${Figure} name="highC" label=${t.high} ...${form} /></div></fieldset>
    <${Figure} name="order" label=${t.order} hint=${t.orderHint} ...${form} />
    <label class="check"><input type="checkbox" name="fill" checked=${draft.fields.fill.value === 'yes'} onChange=${(/** @type {any} */ e) => draft.set({ fill: e.target.checked ? 'yes' : '' })} /> ${t.fill}</label>
    ${draft.fields.fill.value === 'yes' && html`<${Figure} name="perCm" label=${t.perCm(volumeUnit())} hint=${t.perCmHint} ...${form} /><${Figure} name="fillNote" label=${t.fillNote} text=${true} ...${form} />`}
    <details><summary>${t.targets}</summary><p class="soft">${t.targetsHint}</p>
      <div class="tank-targets">${TARGETS.map((kind) => html`<div class="pair" key=${kind}><${Figure} name=${`${kind}.low`} label=${t.from(all.kinds[kind], units[kind])} ...${form} /><${Figure} name=${`${kind}.high`} label=${t.to} ...${form} /></div>`)}
        <${Pick} name="alkalinity.unit" label=${t.alkalinityUnit} options=${['dKH', 'meq/L']} words=${{}} draft=${draft} /></div></details>
    <details><summary>${t.every}</summary><p class="soft">${t.everyHint}</p>
      <div class="pair">${RHYTHMS.map((what) => html`<${Figure} key=${what} name=${what} label=${t[what]} ...${form} />`)}</div></details>
    <${Figure} name="note" label=${t.note} text=${true} lines=${3} ...${form} />
    <p class="wrong" role="alert">${unkept.value || (left.of('') && Object.keys({ ...said.wrong, ...said.ask }).length > 0 && all.wrongHead)}</p>
    <div class="actions"><${Link} class="button" to=${back} onClickCapture=${() => draft.end(true)}>${all.cancel}<//><button type="submit" class="main" data-do="keep">${t.save}</button></div>
    ${tank && (asks.value ? html`<${Confirm} asks=${t.removeAsk(tank.name)} says=${t.removeSays} does=${t.remove} act=${remove} leave=${() => (asks.value = false)} />`
      : lives ? html`<p class="soft">${t.removeNot}</p>` : html`<button type="button" class="quiet" data-do="remove" onClick=${() => (asks.value = true)}>${t.remove}</button>`)}
  </form>`;
}
