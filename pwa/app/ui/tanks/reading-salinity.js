// A salinity as it is read: figure, instrument, scale, temperature of the sample; and at once
// what it means and how far that may be trusted.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { useAnswer } from './tank-ask-core.js';
import { Figure, Pick } from './tank-field.js';
import { INSTRUMENTS, needsSample, SCALES } from './reading-kinds.js';
import { salinityOf } from './reading-typed.js';
import { degreeUnit, figure } from './tank-units.js';
import { meaningRequest } from './tank-water-call.js';
import { water as t } from '../../text/en-tank-water.js';

/** @param {{at?: string, draft: import('./tank-draft.js').Draft, doubts: import('./tank-field.js').Doubts, left: import('./tank-field.js').Left}} props at: before the names of the fields */
export function SalinityFields({ at = '', draft, doubts, left }) {
  const [instrument, scale] = [draft.fields[at + 'instrument'], draft.fields[at + 'scale']];
  const scales = SCALES[instrument.value] ?? SCALES.refractometer;
  const offered = scales.includes(scale.value) ? scales : [scale.value, ...scales];
  useEffect(() => {
    if (!scales.includes(scale.peek()) && !draft.fields[at + 'salinity'].peek()) scale.value = scales[0];
  }, [instrument.value]);
  return html`<div class="salinity-fields">
    <${Figure} name=${at + 'salinity'} label=${t.reading.value} draft=${draft} doubts=${doubts} left=${left} />
    <div class="pair wide">
      <${Pick} name=${at + 'instrument'} label=${t.reading.instrument} options=${INSTRUMENTS} words=${t.reading.instruments} draft=${draft} />
      <${Pick} name=${at + 'scale'} label=${t.reading.scale} options=${offered} words=${t.reading.scales} draft=${draft} />
    </div>
    ${needsSample(instrument.value, scale.value) && html`<${Figure} name=${at + 'sampleC'} label=${t.reading.sample(degreeUnit())} hint=${t.reading.sampleHint} draft=${draft} doubts=${doubts} left=${left} />`}
    <${Meaning} salinity=${salinityOf(at, draft.typed(), { fields: {}, wrong: {}, ask: {} })} at=${at} />
  </div>`;
}

/**
 * What a salinity as read means.
 * @param {{salinity: ReturnType<typeof salinityOf>, at: string}} props
 */
function Meaning({ salinity, at }) {
  const { answer, wrong, failed, coming } = useAnswer('water', salinity && meaningRequest(salinity));
  if (!salinity) return html`<p class="meaning" id=${at + 'meaning'} aria-live="polite"></p>`;
  const words = failed ? t.coreGone : wrong ?? (answer ? t.reading.means(figure(answer.salinity, 1), figure(answer.least, 1), figure(answer.most, 1)) : t.notReckoned);
  return html`<p class="meaning" id=${at + 'meaning'} aria-live="polite" data-coming=${coming}>${wrong && !failed ? html`<span class="wrong">${words}</span>` : html`<strong>${words}</strong>`}
    ${answer && salinity.scale === 'SG unknown' && html` <span class="soft">${t.reading.wide}</span>`}</p>`;
}
