// Giving a tank or a system water: a change to a salinity, worked out and noted with where the
// water is from; a top-up of what went into the air.

import { html } from '../parts/html.js';
import { Page } from '../house/page.js';
import { ChangeForm } from './change-form.js';
import { ChangeTopUp } from './change-top-up.js';
import { may, nameOf, read, systemOf } from './picture-state.js';
import { tanks as text } from '../../text/en-tanks.js';
import { water as all } from '../../text/en-tank-water.js';

/** @param {{of: string[]}} props kind and id: a tank or a system */
export function ChangePage({ of: [kind = '', id = ''] }) {
  const ref = `${kind}/${id}`;
  const name = kind === 'tank' || kind === 'system' ? nameOf(ref) : '';
  const back = kind === 'tank' ? `/tanks/tank/${id}` : `/tanks/system/${ref}`;
  const frame = (/** @type {any} */ inside) => html`<${Page} title=${all.change.title(name)} to=${name ? back : '/tanks'} back=${name || text.back}>${inside}<//>`;
  if (!read.value) return frame(null);
  if (!name) return frame(html`<p>${text.gone}</p>`);
  if (!may.value.note) return frame(html`<p>${text.reads}</p>`);
  const alone = systemOf(ref)?.kind !== 'system' || kind === 'system';
  return frame(html`<div class="change" data-of=${ref}>
    ${!alone && html`<p class="soft">${all.change.shared(systemOf(ref)?.name ?? '')}</p>`}
    ${may.value.decide ? html`<${ChangeForm} key=${ref} of=${ref} />` : html`<p class="soft">${text.due.child}</p>`}
    <${ChangeTopUp} key=${`top ${ref}`} of=${ref} />
  </div>`);
}
