// Letting in what came in a bag: for one or more specimens, what the two waters are, the plan
// that follows, and its start.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { recallKinds } from '../parts/kinds.js';
import { go } from '../route.js';
import { call } from '../../core.js';
import { write } from '../../data/book.js';
import { uuidv7 } from '../../data/ids.js';
import { keepInstrument, keptInstrument } from '../../data/instrument-choice.js';
import { Page } from '../house/page.js';
import { instant, owner } from '../shore/outing-state.js';
import { AcclimateChoose } from './acclimate-choose.js';
import { AcclimateFields } from './acclimate-fields.js';
import { own } from './acclimate-numbers.js';
import { AcclimatePlan } from './acclimate-plan.js';
import { RunPage } from './acclimate-run.js';
import { beginRun, runOf } from './acclimate-runs.js';
import { keptOf } from './acclimate-stages.js';
import { acclimationTyped, newlyRead, tenderest } from './acclimate-typed.js';
import { drain } from './acclimate-water.js';
import { groupOf, handling, recallSigns } from './check-signs.js';
import { may, nameOf, namesOfAll, read, specimenOf, tankOf } from './picture-state.js';
import { useAnswer } from './tank-ask-core.js';
import { toFirstWrong, useLeft } from './tank-field.js';
import { useDraft } from './tank-draft.js';
import { lastOf, tankNow } from './tank-of.js';
import { estimate } from './tank-salinities.js';
import { inDegrees, inVolume } from './tank-units.js';
import { tanks as text } from '../../text/en-tanks.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.acclimate;

/** @param {{of: string[]}} props the ids of specimens with "+" between; nothing to choose; "run" and the event's id */
export function AcclimatePage({ of: [ids = '', run = ''] }) {
  useEffect(() => {
    recallKinds();
    recallSigns();
  }, []);
  if (ids === 'run') return html`<${RunPage} id=${run} />`;
  const list = ids.split('+').filter((id) => specimenOf(id));
  const frame = (/** @type {any} */ inside) => html`<${Page} title=${list.length ? t.title(text.few(namesOfAll(list))) : t.titleAny} to=${list.length === 1 ? `/tanks/specimen/${list[0]}` : '/tanks'} back=${list.length === 1 ? nameOf(`specimen/${list[0]}`) : text.back}>${inside}<//>`;
  if (!read.value) return frame(null);
  if (list.length === 0) return frame(html`<${AcclimateChoose} />`);
  const running = list.map(runOf).find(Boolean);
  return frame(html`<div class="acclimate" data-specimens=${list.length}>
    ${running && html`<${Link} class="button main" to=${`/tanks/acclimate/run/${running.id}`} data-do="to-run">${t.toRun}<//>`}
    ${!may.value.decide ? html`<p>${text.due.child}</p>` : html`<${Setup} key=${ids} list=${list} />`}</div>`);
}

/**
 * The form as it starts: the tank as it was last read.
 * @param {string[]} tanks ids
 * @returns {Record<string, string>}
 */
function start(tanks) {
  const last = tanks.length ? lastOf(`tank/${tanks[0]}`) : {};
  const s = last.salinity?.value;
  const volumes = tanks.map((id) => tankOf(id)?.volumeL ?? 0).filter((l) => l > 0);
  const degreesOf = (/** @type {any} */ c) => (c === undefined ? '' : String(Number(inDegrees(c).toFixed(1))));
  return {
    'bag.volume': '', 'bag.salinity': '', 'bag.instrument': s?.instrument ?? 'refractometer', 'bag.scale': s?.scale ?? 'ppt', 'bag.sampleC': '', 'bag.temperatureC': '', 'bag.pH': '', 'bag.ammoniaMgNL': '', 'bag.ammoniaMgNL.as': 'N', hours: '',
    'tank.volume': volumes.length ? inVolume(Math.min(...volumes)) : '', 'tank.salinity': s ? String(s.value) : '', 'tank.instrument': s?.instrument ?? 'refractometer', 'tank.scale': s?.scale ?? 'ppt', 'tank.sampleC': degreesOf(s?.sampleC ?? undefined),
    'tank.temperatureC': degreesOf(last.temperatureC?.value), 'tank.pH': last.pH ? String(last.pH.value.value) : '', 'pH.scale': last.pH?.value.scale ?? 'NBS', containerL: '', drops: '', discard: 'yes',
  };
}

/** @param {{list: string[]}} props */
function Setup({ list }) {
  const tanks = [...new Set(list.map(tankNow).filter((id) => tankOf(id)))];
  const draft = useDraft(`acclimate:${list.join('+')}`, () => start(tanks));
  const left = useLeft();
  const says = useSignal('');
  const busy = useSignal(false);
  useEffect(() => {
    Promise.all([keptInstrument(), draft.read]).then(([kept]) => {
      if (!kept || draft.found.peek()) return;
      const set = /** @type {Record<string, string>} */ ({});
      if (kept.drops) set.drops = kept.drops;
      for (const at of ['bag.', 'tank.']) if (!draft.fields[`${at}salinity`].peek()) for (const field of ['instrument', 'scale']) if (kept[field]) set[at + field] = kept[field];
      draft.set(set);
    });
  }, [draft]);

  const said = acclimationTyped(draft.typed());
  const groups = [...new Set(list.map(groupOf))];
  const tender = handling.value && tenderest(groups, handling.value, own.value);
  const request = said.request && tender && { ...said.request, ...tender, jars: Math.max(1, tanks.length), drain: drain.value };
  const { answer, wrong, failed } = useAnswer('acclimate', request || undefined);
  const waters = said.request ? [estimate(said.request.bag.salinity), estimate(said.request.tank.salinity)] : [];
  const discard = draft.fields.discard.value === 'yes';

  const begin = async () => {
    if (busy.value) return;
    left.all();
    const refuse = (/** @type {string} */ words) => {
      busy.value = false;
      says.value = words;
      announce(words);
      toFirstWrong();
    };
    if (!request) return refuse(Object.keys({ ...said.wrong, ...said.ask }).length > 0 ? all.wrongHead : said.missing.length ? t.missing(said.missing.map((name) => t.fields[name] ?? name)) : all.coreGone);
    busy.value = true;
    let plan; // of what stands in the form now, also where the page is still waiting for it
    try {
      plan = await call('acclimate', request);
    } catch (error) {
      return refuse(failed ? all.coreGone : /** @type {Error} */ (error).message);
    }
    await keepTank(tanks, request, draft);
    const sides = { bag: { salinity: waters[0]?.salinity ?? null, tempC: request.bag.temperatureC, volumeL: request.bag.volumeL }, tank: { salinity: waters[1]?.salinity ?? null, tempC: request.tank.temperatureC }, to: tanks };
    const kept = keptOf(plan, discard, sides);
    const run = await beginRun(list, kept);
    keptInstrument().then((was) => keepInstrument({ ...was, drops: draft.fields.drops.value }));
    busy.value = false;
    if (!run.kept) announce(all.unkept);
    await draft.end(true);
    go(`/tanks/acclimate/run/${run.id}`);
  };

  return html`<form class="acclimate" onSubmit=${(/** @type {Event} */ e) => {
    e.preventDefault();
    begin();
  }} onFocusOut=${left.leave} novalidate>
    ${draft.found.value && html`<p class="soft" data-draft>${all.draft}</p>`}
    <p>${t.lead}</p>
    <${AcclimateFields} draft=${draft} doubts=${said} left=${left} tanks=${tanks} groups=${groups} />
    <${AcclimatePlan} answer=${request ? answer : undefined} wrong=${wrong} failed=${failed} missing=${said.missing} doubtful=${Object.keys({ ...said.wrong, ...said.ask }).length > 0} draft=${draft} jars=${Math.max(1, tanks.length)} />
    <p class="wrong" role="alert">${says.value}</p>
    <div class="actions"><${Link} class="button" to="/tanks">${all.cancel}<//><button type="submit" class="main" data-do="begin" aria-disabled=${busy.value}>${t.begin}</button></div>
  </form>`;
}

/**
 * What was read of the tank for the plan is a reading of it. What stood there before was read
 * then, and not now.
 * @param {string[]} tanks
 * @param {Record<string, any>} request
 * @param {import('./tank-draft.js').Draft} draft
 */
async function keepTank(tanks, request, draft) {
  const fields = tanks.length ? newlyRead(start(tanks), draft.typed(), request.tank) : {};
  if (Object.keys(fields).length > 0) await write('reading', uuidv7(), { sample: { at: instant(), of: `tank/${tanks[0]}`, by: owner.peek() }, ...fields });
}
