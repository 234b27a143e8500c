// How much of the ammonia read is the form that poisons, and what to do where it is high.

import { html } from '../parts/html.js';
import { useAnswer } from './tank-ask-core.js';
import { ammoniaRequest } from './tank-water-call.js';
import { water as t } from '../../text/en-tank-water.js';

/** @param {{fields: Record<string, any>, salinity?: number}} props fields of a reading; salinity: another, where the reading has none */
export function AmmoniaMeaning({ fields, salinity }) {
  const has = fields.ammoniaMgNL > 0;
  const request = has ? ammoniaRequest(fields, salinity) : undefined;
  const { answer, wrong, failed } = useAnswer('water', request);
  if (!has) return null;
  if (!request) return html`<p class="soft" data-nh3="needs">${t.reading.nh3Needs}</p>`;
  if (failed) return html`<p class="soft" data-nh3="failed">${t.coreGone}</p>`;
  if (wrong) return html`<p class="wrong" data-nh3="wrong">${wrong}</p>`;
  if (!answer) return html`<p class="soft" data-nh3="coming">${t.notReckoned}</p>`;
  return html`<div data-nh3=${answer.word} class=${answer.word === 'under' ? 'meaning' : 'heed'} aria-live="polite">
    ${answer.word !== 'under' && html`<p><strong>${answer.word === 'atOnce' ? t.reading.nh3Acute : t.reading.nh3High}</strong></p>`}
    <p>${t.reading.nh3(answer.mgNH3L)}</p>
    ${answer.word !== 'under' && html`<ol class="numbered">${t.reading.nh3Do.map((one) => html`<li>${one}</li>`)}</ol>`}
    <p class="soft">${t.reading.nh3Source(answer.longFrom, answer.atOnceFrom)}</p>
  </div>`;
}
