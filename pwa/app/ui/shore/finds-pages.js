// Which page of finds a path names.

import { html } from '../parts/html.js';
import { FindPage } from './find-page.js';
import { LogPage } from './log-page.js';
import { OutingPage } from './outing-page.js';
import { OutingsPage } from './outings-page.js';
import { TodayPage } from './today-page.js';
import { AskPage } from './verdict.js';

/**
 * @param {string[]} parts of the path
 * @returns what to show; undefined where the path is another's
 */
export function findsPage([, page, of]) {
  if (page === 'may') return html`<${AskPage} />`;
  if (page === 'log') return html`<${LogPage} />`;
  if (page === 'today') return html`<${TodayPage} key=${of} day=${of} />`;
  if (page === 'find' && of) return html`<${FindPage} key=${of} of=${of} />`;
  if (page === 'outings') return of ? html`<${OutingPage} key=${of} of=${of} />` : html`<${OutingsPage} />`;
  return undefined;
}
