// The pages of water under /tanks, by the second part of the path.

import { AcclimatePage } from './acclimate-page.js';
import { ReadingPage } from './reading-page.js';
import { TankPage } from './tank-page.js';

/** @type {Record<string, (props: {of: string[]}) => any>} */
export const waterPages = { tank: TankPage, reading: ReadingPage, acclimate: AcclimatePage };
