// Paper and the hard moments: their pages under /tanks, by the second part of the path.

import { CompanionsPage } from './companions-page.js';
import { DisposalPage } from './disposal-page.js';
import { HandOnPage } from './hand-on-page.js';
import { LabelPage } from './label-page.js';
import { LidPage } from './lid-page.js';
import { RecallPage } from './recall-page.js';
import { TicksPage } from './ticks-page.js';
import { TroublePage } from './trouble-page.js';

/** @type {Record<string, (props: {of: string[]}) => any>} */
export const paperPages = {
  lid: LidPage, labels: LabelPage, ticks: TicksPage, 'hand-on': HandOnPage, recall: RecallPage,
  trouble: TroublePage, companions: CompanionsPage, disposal: DisposalPage,
};
