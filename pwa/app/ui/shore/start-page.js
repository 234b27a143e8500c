// Starting an outing that is planned: its two alarms, and go.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { go } from '../route.js';
import { Alarms } from './alarms.js';
import { begin, timesOfNow } from './begin.js';
import { outings, underWay } from './outing-state.js';
import { Panel } from './panel.js';
import { text } from '../../text/en.js';

/** @param {{id: string}} props of the outing */
export function StartPage({ id }) {
  const t = text.staff.start;
  const set = useSignal(false);
  const wrong = useSignal('');
  const outing = outings.value.find((one) => one.id === id);
  const says = !outing ? t.gone : outing.endedMs !== null ? t.ended : underWay.value ? t.already : '';
  if (!outing || says) return html`<${Panel} name="start" title=${t.title}><p>${says}</p><//>`;
  const times = outing.planned?.startBack ? outing.planned : timesOfNow();
  /** @param {Event} event */
  const start = async (event) => {
    event.preventDefault();
    if (!set.value) {
      wrong.value = t.needAlarms;
      return document.getElementById('alarms')?.focus();
    }
    await begin(outing);
    go('/shore');
  };
  return html`<${Panel} name="start" title=${t.title}>
    <form class="start" novalidate onSubmit=${start}>
      <${Alarms} startBackMs=${times?.startBack ? Date.parse(times.startBack) : undefined} set=${set} wrong=${set.value ? '' : wrong.value} />
      <p class="soft">${t.other}</p>
      <div class="under-thumb"><button type="submit" class="main" data-do="start">${t.start}</button></div>
    </form>
  <//>`;
}
