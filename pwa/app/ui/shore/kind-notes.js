// What is to be known of a kind at the moment it is chosen: that it hurts and how, on the shore
// and in tank work; that trade in it is controlled; that it spreads where it was brought.

import { html } from '../parts/html.js';
import { flagsNamed, regionNames } from '../parts/kinds.js';
import { Link } from '../parts/link.js';
import { kindNotes as t } from '../../text/en-verdict.js';

/** @param {{taxon: string}} props */
export function KindNotes({ taxon }) {
  const flags = flagsNamed(taxon);
  if (!flags) return null;
  const { harm, trade, invasive, regions } = flags;
  const home = regions.filter((code) => !invasive?.includes(code));
  return html`<div class="kind-notes" data-kind-notes>
    ${harm && html`<div class="heed" data-note="harm"><p><strong>${t.does(harm.how.map((how) => t.how[how] ?? how))}</strong> ${harm.grave && t.grave}</p>
      ${harm.where.includes('shore') && html`<p>${t.shore}</p>`}${harm.where.includes('tank') && html`<p>${t.tank} ${t.wounds}</p>`}
      <${Link} class="button" data-do="aid" to="/shore/help">${t.aid}<//></div>`}
    ${trade && html`<p class="heed" data-note="trade">${t.trade(trade)}</p>`}
    ${Boolean(invasive?.length) && html`<p class="heed" data-note="invasive">${t.spreads(regionNames(invasive ?? []))} ${home.length > 0 && t.native(regionNames(home))} <strong>${t.report}</strong></p>`}
  </div>`;
}
