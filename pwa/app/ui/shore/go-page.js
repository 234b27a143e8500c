// Going without a plan: the least that safety asks for.

import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { html } from '../parts/html.js';
import { go } from '../route.js';
import { uuidv7 } from '../../data/ids.js';
import { Alarms } from './alarms.js';
import { begin, timesOfNow } from './begin.js';
import { clockAt } from './clocks.js';
import { openGo } from './go-draft.js';
import { limits, spot } from './now-state.js';
import { instant, plan, underWay } from './outing-state.js';
import { nextAt } from './outing-times.js';
import { Panel } from './panel.js';
import { Stepper } from './stepper.js';
import { text } from '../../text/en.js';

/** A time of day that comes later than this has passed today. */
const AHEAD_MS = 14 * 3_600_000;

/**
 * The next instant at which the shore's clock shows a time; undefined where there is none soon.
 * @param {string} time HH:MM
 * @param {string} zone
 */
function nextInstant(time, zone) {
  const ms = time ? nextAt(time, Date.now(), zone) : NaN;
  return ms - Date.now() < AHEAD_MS ? ms : undefined;
}

export function GoPage() {
  const t = text.staff.start;
  const at = spot.value;
  if (underWay.value) return html`<${Panel} name="go" title=${t.without}><p>${t.already}</p><//>`;
  if (!at) return html`<${Panel} name="go" title=${t.without}><p>${text.staff.noShore}</p><//>`;
  return html`<${Panel} name="go" title=${t.without}><p>${t.withoutWhy}</p><${GoForm} shore=${at} /><//>`;
}

/** @param {{shore: import('../../data/shore-record.js').Shore}} props */
function GoForm({ shore }) {
  const t = text.staff.start;
  const draft = useMemo(openGo, []);
  useEffect(() => () => void draft.end(false), []);
  const alarms = useSignal(false);
  const wrong = useSignal(/** @type {Record<string, string>} */ ({}));
  const { adults, children, who, call, due } = draft.fields.value;
  const dueMs = nextInstant(due, shore.zone);

  /** @param {Event} event */
  const start = async (event) => {
    event.preventDefault();
    wrong.value = {
      ...(adults < 1 ? { adults: t.needAdult } : {}), ...(who.trim() ? {} : { who: t.needWho }),
      ...(dueMs === undefined ? { due: t.needDue } : {}), ...(alarms.value ? {} : { alarms: t.needAlarms }),
    };
    const [first] = Object.keys(wrong.value);
    if (first || dueMs === undefined) return document.getElementById(first === 'adults' ? 'adults' : first)?.focus();
    const party = Object.fromEntries([
      ...Array.from({ length: adults }, () => ({ as: 'adult' })), ...Array.from({ length: children }, (_, i) => ({ as: 'child', number: i + 1 })),
    ].map((person) => [`party/${uuidv7()}`, person]));
    const planned = timesOfNow();
    const { id } = await plan({
      shore: shore.id, planned, ...party, ashore: { who: who.trim(), dueBack: instant(dueMs) }, ...(call.trim() ? { ashoreCall: call.trim() } : {}),
    });
    await begin({ id, shore: shore.id, planned });
    await draft.end(true);
    go('/shore');
  };

  /** @param {'who' | 'call'} id @param {string} label @param {string} [hint] @param {string} [type] */
  const field = (id, label, hint, type = 'text') => html`<div class="field">
    <label for=${id}>${label}</label>${hint && html`<p id=${id + '-hint'} class="soft">${hint}</p>`}
    <input id=${id} name=${id} type=${type} autocomplete="off" maxlength=${id === 'who' ? 80 : 300} value=${draft.fields.value[id]} aria-invalid=${Boolean(wrong.value[id])}
      aria-describedby=${`${hint ? id + '-hint ' : ''}${id}-wrong`} onInput=${(/** @type {any} */ e) => draft.set({ [id]: e.target.value })} />
    <p id=${id + '-wrong'} class="wrong">${wrong.value[id]}</p>
  </div>`;

  return html`<form class="start" novalidate onSubmit=${start}>
    ${draft.found.value && html`<p class="soft" data-draft>${t.draft}</p>`}
    <fieldset class="party"><legend>${t.party}</legend>
      <${Stepper} id="adults" label=${t.adults} fewer=${t.fewer} more=${t.more} value=${adults} set=${(/** @type {number} */ n) => draft.set({ adults: n })} />
      <${Stepper} id="children" label=${t.children} fewer=${t.fewer} more=${t.more} value=${children} set=${(/** @type {number} */ n) => draft.set({ children: n })} />
      <p class="wrong">${wrong.value.adults}</p>
    </fieldset>
    ${field('who', t.who)}
    ${field('call', t.call, t.callHint, 'tel')}
    <div class="field"><label for="due">${t.due}</label><p id="due-hint" class="soft">${t.dueHint}</p>
      <input id="due" name="due" type="time" value=${due} aria-invalid=${Boolean(wrong.value.due)} aria-describedby="due-hint due-wrong"
        onInput=${(/** @type {any} */ e) => draft.set({ due: e.target.value })} />
      <p id="due-wrong" class="wrong">${wrong.value.due}</p>
      ${dueMs !== undefined && limits.value && dueMs < limits.value.offByMs && html`<p class="stale">${t.dueOff(clockAt(limits.value.offByMs))}</p>`}
    </div>
    <${Alarms} startBackMs=${limits.value?.startBackMs} set=${alarms} wrong=${alarms.value ? '' : wrong.value.alarms ?? ''} />
    <p class="soft">${t.other}</p>
    <div class="under-thumb"><button type="submit" class="main" data-do="start">${t.start}</button></div>
  </form>`;
}
