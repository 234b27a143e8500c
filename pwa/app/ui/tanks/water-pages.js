// The pages of water under /tanks, by the second part of the path.

import { AcclimatePage } from './acclimate-page.js';
import { ChangePage } from './change-page.js';
import { ReadingPage } from './reading-page.js';
import { TankPage } from './tank-page.js';
import { ToolsPage } from './tank-tools-page.js';

/** @type {Record<string, (props: {of: string[]}) => any>} */
export const waterPages = { tank: TankPage, reading: ReadingPage, change: ChangePage, water: ToolsPage, acclimate: AcclimatePage };
