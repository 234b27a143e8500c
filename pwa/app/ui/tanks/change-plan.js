// What the new water of a change must be.

import { html } from '../parts/html.js';
import { figure, grams, litres } from './tank-units.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.change;

/** @param {{asked: boolean, heard: ReturnType<typeof import('./tank-ask-core.js').useAnswer>, litresEach?: number}} props */
export function ChangePlan({ asked, heard, litresEach }) {
  const { answer, wrong, failed } = heard;
  const after = answer?.after?.[answer.after.length - 1];
  return html`<section class="meaning" data-change=${answer ? answer.newSalinity : 'none'} aria-labelledby="new-water" aria-live="polite"><h2 id="new-water">${t.plan}</h2>
    ${!asked ? html`<p class="soft">${t.missing}</p>` : failed ? html`<p>${all.coreGone}</p>` : wrong ? html`<p class="wrong">${wrong}</p>` : !answer ? html`<p>${all.notReckoned}</p>` : html`
      <p><strong>${t.needs(litres(litresEach ?? 0), figure(answer.newSalinity, 1))}</strong> ${t.share(Math.round(answer.share * 100))}</p>
      <p>${answer.saltG > 0 ? t.salt(grams(answer.saltG), litres(answer.freshL)) : t.fresh(litres(answer.freshL))}</p>
      ${answer.after.length > 1 ? html`<ol class="numbered">${answer.after.slice(0, 20).map((/** @type {any} */ one) => html`<li>${t.afterN(figure(one.salinity, 1))}</li>`)}</ol>`
        : html`<p>${t.after(figure(after.salinity, 1), figure(after.least, 1), figure(after.most, 1))}</p>`}
      <p class="soft">${t.match} ${t.tap}</p>`}
  </section>`;
}
