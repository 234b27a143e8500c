// The units in which this phone shows heights.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { showIn, shownUnits } from '../parts/units.js';
import { keepUnits } from '../../data/unit-choice.js';
import { Page } from './page.js';
import { text } from '../../text/en.js';

export function MeasuresPage() {
  const t = text.measures;
  const now = useSignal(shownUnits());
  const choose = (/** @type {'metric' | 'imperial'} */ units) => {
    now.value = units;
    showIn(units);
    keepUnits(units);
  };
  return html`<${Page} title=${t.title}>
    <fieldset class="field" aria-describedby="units-why"><legend>${t.title}</legend>
      ${/** @type {const} */ (['metric', 'imperial']).map((is) => html`<label class="check"><input type="radio" name="units" value=${is} checked=${now.value === is}
        onChange=${() => choose(is)} /> ${t[is]}</label>`)}
    </fieldset>
    <p id="units-why" class="soft">${t.why}</p>
  <//>`;
}
