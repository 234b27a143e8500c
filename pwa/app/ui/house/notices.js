// What House has to say on every place: how much is not sent, that the phone was shut out,
// that its clock is wrong, which is dangerous on a shore.

import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { me } from '../../data/door.js';
import { syncState, unsent } from '../../data/sync.js';
import { parts } from '../route.js';
import { clockIsOff } from './exchange.js';
import { text } from '../../text/en.js';

/** Above every place but House, which says it itself. */
export function Notices() {
  if (parts.value[0] === 'house') return null;
  return html`
    ${syncState.value.state === 'shut-out' && html`<div class="bar grave" data-bar="shut-out" role="alert"><p>${text.sent.state['shut-out']}</p><${Link} class="button" to="/house">${text.house.title}<//></div>`}
    ${clockIsOff() && html`<div class="bar grave" data-bar="clock" role="alert"><p>${clockIsOff()}</p></div>`}`;
}

/** Under the link to House. */
export function Unsent() {
  if (!me.value || me.value.device.role === 'guest' || unsent.value === 0) return null;
  return html`<span class="unsent" data-unsent=${unsent.value}>${text.sent.short(unsent.value)}</span>`;
}
