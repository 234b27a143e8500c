// A lot is called back: every fragment, everybody who has one, everything that shared its
// water, at once, to print and to send.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { recallKinds } from '../parts/kinds.js';
import { send } from '../parts/send.js';
import { dayName } from '../parts/when.js';
import { Page } from '../house/page.js';
import { recallShores } from '../plan/shore-state.js';
import { Trace } from './hand-on-page.js';
import { originOf } from './hand-on-trace.js';
import { lineOf, lotCode } from './label-facts.js';
import { recallRows, recallText } from './recall-words.js';
import { ask, events, may, nameOf, picture, read, specimenOf, specimens, systemOf } from './picture-state.js';
import { fate } from '../../text/en-tank-fate.js';
import { paper } from '../../text/en-tank-paper.js';
import { tanks as words } from '../../text/en-tanks.js';

/** @typedef {import('./recall-words.js').Recall} Recall */

/** @param {{of: string[]}} props id of the specimen */
export function RecallPage({ of: [id] }) {
  const t = fate.recall;
  useEffect(() => {
    recallKinds();
    recallShores();
  }, []);
  const one = specimenOf(id ?? '');
  if (!id) return html`<${Which} />`;
  if (!one) return html`<${Page} title=${t.title} to="/tanks" back=${words.title}><p>${read.value ? paper.gone : '…'}</p><//>`;
  const name = nameOf(`specimen/${one.id}`);
  return html`<${Page} title=${t.of(name)} to=${`/tanks/specimen/${one.id}`} back=${name}>
    <p class="screen">${t.why}</p>
    <${List} id=${one.id} name=${name} />
  <//>`;
}

/** @param {string} id */
function comesFrom(id) {
  const origin = originOf(id);
  return origin && !('source' in origin) ? ` · ${fate.handOn.fromFind(origin.shore, dayName(origin.day, ''))}` : '';
}

function Which() {
  const t = fate.recall;
  return html`<${Page} title=${t.title} to="/tanks" back=${words.title}><p>${t.why}</p>
    ${specimens.value.length === 0 ? html`<p>${t.none}</p>` : html`<h2>${t.choose}</h2><nav class="rows" aria-label=${t.choose}>${specimens.value.filter(({ lot }) => !lot)
      .map(({ id }) => html`<${Link} to=${`/tanks/recall/${id}`}><strong>${nameOf(`specimen/${id}`)}</strong><span class="soft">${fate.handOn.lot(lotCode(id))}${comesFrom(id)}</span><//>`)}</nav>`}<//>`;
}

/** @param {{id: string, name: string}} props */
function List({ id, name }) {
  const t = fate.recall;
  const found = useSignal(/** @type {Recall | undefined} */ (undefined));
  const failed = useSignal('');
  const says = useSignal('');
  const at = picture.value?.atMs;
  useEffect(() => {
    let wanted = true;
    if (read.value) {
      ask({ recall: id }).then(
        (answer) => wanted && ((found.value = answer.recall), (failed.value = '')),
        (error) => wanted && (failed.value = /** @type {Error} */ (error).message),
      );
    }
    return () => void (wanted = false);
  }, [id, at, read.value]);
  if (failed.value) return html`<p class="heed" role="alert" data-recall="failed">${t.failed} ${failed.value}</p>`;
  if (!found.value) return html`<p role="status" data-recall="not-reckoned">${t.notReckoned}</p>`;
  const rows = recallRows(found.value);
  const line = lineOf(id, specimens.value, events.value);
  const lot = lotCode(line[line.length - 1]);
  const systems = found.value.systems.map((key) => systemOf(key)?.name || nameOf(key)).filter(Boolean);
  const message = recallText({ name, lot, rows, systems, nowMs: Date.now() });
  const share = async () => {
    const how = await send(message);
    says.value = how === 'copied' ? t.copied : how === 'neither' ? t.byHand : '';
    announce(says.value);
  };
  return html`<div class="recall" data-recall=${rows.length}>
    <ol class="points screen">${t.todo.map((step) => html`<li>${step}</li>`)}</ol>
    <div class="actions screen">${may.value.decide && html`<button type="button" class="main" data-do="share" onClick=${share}>${t.share}</button>`}<button type="button" data-do="print" onClick=${() => print()}>${paper.print}</button></div>
    <p class="screen" role="status" data-says>${says.value}</p>
    ${says.value === t.byHand && html`<textarea class="screen" readonly rows="8" aria-label=${t.byHand} value=${message} />`}
    <h2>${t.count(rows.length)} · ${fate.handOn.lot(lot)}</h2>
    ${(/** @type {const} */ (['away', 'here', 'over'])).map((where) => {
      const those = rows.filter((row) => row.where === where);
      return those.length > 0 && html`<section data-where=${where}><h3>${t[where]}</h3><ul class="recall-rows">${those.map((row) => html`<li key=${row.id} data-specimen=${row.id} data-as=${row.as}>
        <strong><${Link} to=${`/tanks/specimen/${row.id}`}>${row.name}<//></strong> <span>${t.as[row.as]}</span> <span>${row.at}</span> <span class="soft">${row.since}</span></li>`)}</ul></section>`;
    })}
    ${systems.length > 0 && html`<section><h3>${t.systems}</h3><p>${systems.join(', ')}</p></section>`}
    <${Trace} id=${id} />
  </div>`;
}
