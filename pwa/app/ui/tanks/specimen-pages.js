// Systems, specimens, checks and settling in: their pages under /tanks, by the second part of
// the path.

import { html } from '../parts/html.js';
import { CheckPage } from './check-page.js';
import { SettleInPage } from './settle-in-page.js';
import { SpecimenNew } from './specimen-form.js';
import { SpecimenPage } from './specimen-page.js';
import { SystemNew } from './system-new.js';
import { NumbersPage } from './system-numbers.js';
import { SystemPage } from './system-page.js';
import { WalkPage } from './walk-page.js';

/** @type {Record<string, (props: {of: string[]}) => any>} */
export const specimenPages = {
  system: ({ of }) => (of[0] === 'new' ? html`<${SystemNew} />` : html`<${SystemPage} of=${of} />`),
  specimen: ({ of }) => (of[0] === 'new' ? html`<${SpecimenNew} />` : html`<${SpecimenPage} of=${of} />`),
  check: CheckPage,
  walk: WalkPage,
  settle: SettleInPage,
  numbers: NumbersPage,
};
