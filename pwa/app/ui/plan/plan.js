// Plan: when the shore is bare and lit. As a list, one day, one year; pages about shores
// stand in shore-pages.js.

import { html } from '../parts/html.js';
import { parts } from '../route.js';
import { DayPage } from './day-page.js';
import { ListPage } from './list-page.js';
import { ShoreDoubt } from './shore-doubt.js';
import { ShoreHead } from './shore-head.js';
import { shorePage } from './shore-pages.js';
import { doubt, recalled, shore } from './shore-state.js';
import { YearPage } from './year-page.js';
import { text } from '../../text/en.js';

export function Plan() {
  if (!recalled.value) return html`<h1>${text.plan.title}</h1>`;
  const at = shore.value;
  const instead = shorePage(Boolean(at));
  if (instead || !at) return instead;
  const [, page, of] = parts.value;
  return html`
    <${ShoreHead} />
    ${doubt.value ? html`<h1 class="unseen">${text.plan.title}</h1><${ShoreDoubt} />`
      : page === 'day' ? html`<${DayPage} shore=${at} on=${of ?? ''} />`
      : page === 'year' ? html`<${YearPage} shore=${at} of=${of ?? ''} />`
      : html`<${ListPage} shore=${at} />`}`;
}
