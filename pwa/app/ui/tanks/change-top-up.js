// Topping up: fresh water for what went into the air, to the fill line.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { sumFigure } from './change-typed.js';
import { ChangeSaved } from './change-saved.js';
import { tankOf, writeEvent } from './picture-state.js';
import { useAnswer } from './tank-ask-core.js';
import { Figure, toFirstWrong, useLeft } from './tank-field.js';
import { useDraft } from './tank-draft.js';
import { lastOf, rangesOf, volumeOf } from './tank-of.js';
import { figure, litres, volumeUnit } from './tank-units.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.change;

/** @param {{of: string}} props */
export function ChangeTopUp({ of }) {
  const draft = useDraft(`top-up:${of}`, () => ({ 'top.cm': '', 'top.litres': '' }));
  const left = useLeft();
  const saved = useSignal(/** @type {{ids: string[], says: string} | undefined} */ (undefined));
  const says = useSignal('');
  const fill = tankOf(of.split('/')[1])?.fillLine;
  /** @type {import('./reading-typed.js').Said} */
  const said = { fields: {}, wrong: {}, ask: {} };
  const typed = draft.typed();
  const cm = fill?.litresPerCm ? sumFigure('top.cm', 'cm', typed, said) : undefined;
  const missing = sumFigure('top.litres', 'litres', typed, said) ?? (cm !== undefined ? Math.round(cm * fill.litresPerCm * 1000) / 1000 : undefined);
  const full = volumeOf(of);
  if (missing !== undefined && full && missing >= full) said.wrong['top.litres'] = t.tooMuch(litres(full));
  // As it was when full: by the last reading, if it was taken then; else by the middle of its range.
  const { keeps } = rangesOf(of);
  const last = lastOf(of).salinity;
  const water = last ? { reading: last.value } : keeps ? { salinity: (keeps.salinityLow + keeps.salinityHigh) / 2 } : undefined;
  const request = missing && full && water && Object.keys(said.wrong).length === 0 ? { do: 'topUp', litres: full, ...water, lostL: missing } : undefined;
  const { answer } = useAnswer('water', request);

  const note = async (/** @type {number | null} */ l) => {
    left.all();
    if (l !== null && Object.keys(said.wrong).length > 0) {
      announce(all.wrongHead);
      return toFirstWrong();
    }
    const one = await writeEvent('toppedUp', { of, litres: l });
    if (!one.kept) return void (says.value = all.unkept);
    await draft.end(true);
    draft.set({ 'top.cm': '', 'top.litres': '' });
    saved.value = { ids: [one.id], says: l === null ? t.toppedLine : t.toppedUp(litres(l)) };
    announce(saved.value.says);
  };
  const form = { draft, doubts: said, left };
  return html`<section aria-labelledby="top-up" data-top-up><h2 id="top-up">${t.topUp}</h2>
    ${saved.value ? html`<${ChangeSaved} of=${of} saved=${saved.value} again=${() => (saved.value = undefined)} top=${true} />` : html`
    <p class="soft">${t.topUpLead} ${fill?.note && t.line(fill.note)}</p>
    <form onFocusOut=${left.leave} onSubmit=${(/** @type {Event} */ e) => {
      e.preventDefault();
      note(missing ?? null);
    }} novalidate>
      <div class="pair">${fill?.litresPerCm && html`<${Figure} name="top.cm" label=${t.below} ...${form} />`}<${Figure} name="top.litres" label=${fill?.litresPerCm ? t.lost(volumeUnit()) : t.lostAlone(volumeUnit())} ...${form} /></div>
      ${missing !== undefined && Object.keys(said.wrong).length === 0 && html`<p class="meaning" data-top=${missing}><strong>${t.add(litres(missing))}</strong> ${answer && t.rose(figure(answer.rose.salinity, 1), figure(answer.after.salinity, 1), Boolean(last))}</p>`}
      <p class="wrong" role="alert">${says.value}</p>
      <div class="tank-do">${missing !== undefined && html`<button type="submit" class="main" data-do="top-up">${t.saveTop}</button>`}<button type="button" data-do="to-line" onClick=${() => note(null)}>${t.toLine}</button></div>
    </form>`}
  </section>`;
}
