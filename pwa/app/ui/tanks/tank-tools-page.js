// Sums of water without a tank: what a reading means, salt, mixing, poison, air.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { keptInstrument } from '../../data/instrument-choice.js';
import { Page } from '../house/page.js';
import { sumFigure } from './change-typed.js';
import { SalinityFields } from './reading-salinity.js';
import { useAnswer } from './tank-ask-core.js';
import { Figure, useLeft } from './tank-field.js';
import { useDraft } from './tank-draft.js';
import { salinityOf } from './reading-typed.js';
import { SUMS } from './tank-sums.js';
import { degreeUnit, volumeUnit } from './tank-units.js';
import { tanks as text } from '../../text/en-tanks.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.sums;

export function ToolsPage() {
  return html`<${Page} title=${t.title} to="/tanks" back=${text.back}><div class="water-tools">
    <p>${t.lead}</p>
    <${Meaning} />
    ${SUMS.map((sum) => html`<details key=${sum.id} data-sum=${sum.id}><summary>${t.names[sum.id]}</summary><${One} sum=${sum} /></details>`)}
  </div><//>`;
}

function Meaning() {
  const draft = useDraft('sum:meaning', () => ({ salinity: '', instrument: 'refractometer', scale: 'ppt', sampleC: '' }));
  const left = useLeft();
  useEffect(() => {
    Promise.all([keptInstrument(), draft.read]).then(([kept]) => kept?.instrument && kept?.scale && !draft.found.peek() && draft.set({ instrument: kept.instrument, scale: kept.scale }));
  }, [draft]);
  /** @type {import('./reading-typed.js').Said} */
  const said = { fields: {}, wrong: {}, ask: {} };
  salinityOf('', draft.typed(), said);
  return html`<details open data-sum="meaning"><summary>${t.names.meaning}</summary><form onFocusOut=${left.leave} onSubmit=${(/** @type {Event} */ e) => e.preventDefault()} novalidate><${SalinityFields} draft=${draft} doubts=${said} left=${left} /></form></details>`;
}

/** @param {{sum: import('./tank-sums.js').Sum}} props */
function One({ sum }) {
  const at = `${sum.id}.`;
  const draft = useDraft(`sum:${sum.id}`, () => Object.fromEntries(Object.keys(sum.takes).map((name) => [at + name, name === 'times' ? '4' : ''])));
  const left = useLeft();
  /** @type {import('./reading-typed.js').Said} */
  const said = { fields: {}, wrong: {}, ask: {} };
  const typed = draft.typed();
  const is = Object.fromEntries(Object.entries(sum.takes).map(([name, kind]) => [name, sumFigure(at + name, kind, typed, said)]));
  const open = sum.needed.every((name) => is[name] !== undefined) && Object.keys({ ...said.wrong, ...said.ask }).length === 0;
  const { answer, wrong, failed } = useAnswer('water', open ? sum.asks(is) : undefined);
  const label = (/** @type {string} */ name) => {
    const words = t.takes[`${sum.id}.${name}`] ?? t.takes[name];
    const unit = sum.takes[name] === 'litres' ? ` (${volumeUnit()})` : sum.takes[name] === 'degrees' ? ` (${degreeUnit()})` : '';
    return `${words}${unit}${sum.needed.includes(name) ? '' : ` · ${t.maybe}`}`;
  };
  return html`<form onFocusOut=${left.leave} onSubmit=${(/** @type {Event} */ e) => e.preventDefault()} novalidate>
    <p class="soft">${t.about[sum.id]}</p>
    <div class="pair">${Object.keys(sum.takes).map((name) => html`<${Figure} key=${name} name=${at + name} label=${label(name)} draft=${draft} doubts=${said} left=${left} />`)}</div>
    <div aria-live="polite">${open && html`<div class="meaning" data-answer>${failed ? all.coreGone : wrong ? html`<span class="wrong">${wrong}</span>` : !answer ? all.notReckoned : sum.says(answer, is).map((line) => html`<p>${line}</p>`)}</div>`}</div>
  </form>`;
}
