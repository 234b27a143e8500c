// Paper and the hard moments: their pages under /tanks, by the second part of the path.

import { LabelPage } from './label-page.js';
import { LidPage } from './lid-page.js';
import { TicksPage } from './ticks-page.js';

/** @type {Record<string, (props: {of: string[]}) => any>} */
export const paperPages = { lid: LidPage, labels: LabelPage, ticks: TicksPage };
