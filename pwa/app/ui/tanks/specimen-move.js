// Moving a specimen into another tank, or noting that it has come.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { nameOf, systemOf, tanks, writeEvent } from './picture-state.js';
import { observer } from './check-who.js';
import { ActForm, TankPick } from './specimen-act.js';
import { Reckoned } from './system-reckoned.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @param {{one: import('./specimen-page.js').Specimen}} props */
export function MoveForm({ one }) {
  const t = text.move;
  const tank = useSignal('');
  const wrong = useSignal('');
  const { state } = one;
  const comes = !state?.system;
  const waits = comes || !state?.cleared || state.missing.length > 0;
  // Who has not been cleared goes to a display by its clearance alone, out of a holding tank too.
  const list = tanks.value.filter(({ id, use }) => id !== state?.tank && (!waits || use !== 'display'));
  const to = tank.value ? systemOf(`tank/${tank.value}`)?.state : undefined;
  const same = Boolean(to && state?.system === to.key);
  const note = async () => {
    wrong.value = tank.value ? '' : t.need;
    if (wrong.value) return { wrong: wrong.value };
    return writeEvent(comes ? 'arrived' : 'moved', { of: `specimen/${one.id}`, by: observer.peek(), tank: tank.value });
  };
  if (!state) return html`<${Reckoned} />`; // whether it comes or moves is not known
  return html`<${ActForm} back=${`/tanks/specimen/${one.id}`} does=${comes ? t.arriveDo : t.do} said=${t.done(nameOf(`specimen/${one.id}`))} note=${note}>
    ${waits && html`<p class="soft">${t.displays}</p>`}
    <${TankPick} id="to" label=${t.to} list=${list} value=${tank} none=${t.none} wrong=${wrong.value} />
    ${to && !same && to.residents.length > 0 && html`<p class="heed" data-restarts>${text.settleIn.restarts(to.residents.length)}</p>`}
    ${to && to.open.length > 0 && !same && html`<p class="heed">${t.signThere}</p>`}
    ${to?.state === 'stopped' && html`<p class="heed">${t.stopped}</p>`}
  <//>`;
}
