// A change of water: what the new water must be, and the note of it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { now } from '../parts/now.js';
import { keepInstrument, keptInstrument } from '../../data/instrument-choice.js';
import { ChangePlan } from './change-plan.js';
import { sumFigure } from './change-typed.js';
import { ChangeSaved } from './change-saved.js';
import { nameOf, picture, systemOf, systems, writeEvent } from './picture-state.js';
import { useAnswer } from './tank-ask-core.js';
import { Figure, toFirstWrong, useLeft } from './tank-field.js';
import { useDraft } from './tank-draft.js';
import { lastOf, rangesOf, volumeOf } from './tank-of.js';
import { estimate } from './tank-salinities.js';
import { degreeUnit, figure, inDegrees, inVolume, litres, volumeUnit } from './tank-units.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.change;

/** @type {Record<string, import('./change-typed.js').Kind>} */
const FIELDS = { volume: 'litres', changeL: 'litres', now: 'salinity', target: 'salinity', times: 'times', temperature: 'degrees', yield: 'yield' };

/** @param {string} of @returns {Record<string, string>} */
function start(of) {
  const l = volumeOf(of);
  const { keeps } = rangesOf(of);
  const c = lastOf(of).temperatureC?.value;
  return {
    volume: l ? inVolume(l) : '', changeL: '', now: '', target: keeps ? String(Number(((keeps.salinityLow + keeps.salinityHigh) / 2).toFixed(1))) : '', times: '1',
    temperature: c === undefined ? '' : String(Number(inDegrees(c).toFixed(1))), yield: '', from: 'clean', system: '',
  };
}

/** @param {{of: string}} props */
export function ChangeForm({ of }) {
  const draft = useDraft(`change:${of}`, () => start(of));
  const left = useLeft();
  const saved = useSignal(/** @type {{ids: string[], says: string} | undefined} */ (undefined));
  const says = useSignal('');
  const busy = useSignal(false);
  const last = lastOf(of).salinity;
  const read = last && estimate(last.value);
  useEffect(() => {
    Promise.all([keptInstrument(), draft.read]).then(([kept]) => kept?.yield && !draft.found.peek() && draft.set({ yield: kept.yield }));
  }, [draft]);
  const typed = draft.typed();
  /** @type {import('./reading-typed.js').Said} */
  const said = { fields: {}, wrong: {}, ask: {} };
  const is = Object.fromEntries(Object.entries(FIELDS).map(([name, kind]) => [name, sumFigure(name, kind, typed, said)]));
  if (is.changeL !== undefined && is.volume !== undefined && is.changeL > is.volume) said.wrong.changeL = t.tooMuch(litres(is.volume));
  const clear = Object.keys({ ...said.wrong, ...said.ask }).length === 0;
  const water = is.now !== undefined ? { salinity: is.now } : last ? { reading: last.value } : undefined;
  const request = clear && water && is.volume && is.changeL && is.target !== undefined
    ? { do: 'change', litres: is.volume, ...water, changeL: is.changeL, target: is.target, times: is.times ?? 1, ...(is.temperature === undefined ? {} : { temperatureC: is.temperature }), ...(is.yield ? { yield: is.yield } : {}) } : undefined;
  const heard = useAnswer('water', request);
  const from = draft.fields.from.value;
  const restarts = from === 'shore' || from === 'system';

  const save = async (/** @type {Event} */ event) => {
    event.preventDefault();
    if (busy.value) return;
    left.all();
    if (is.changeL === undefined && !said.wrong.changeL) says.value = t.needLitres;
    else says.value = clear ? '' : all.wrongHead;
    if (says.value) {
      announce(says.value);
      return clear ? document.getElementById('changeL')?.focus() : toFirstWrong();
    }
    busy.value = true;
    const system = draft.fields.system.value;
    const one = await writeEvent('waterChanged', { of, litres: is.changeL, from, ...(from === 'system' && system ? { system } : {}) });
    keptInstrument().then((was) => keepInstrument({ ...was, yield: draft.fields.yield.value }));
    busy.value = false;
    if (!one.kept) return void (says.value = all.unkept);
    draft.set({ from: 'clean', system: '' });
    saved.value = { ids: [one.id], says: t.saved(litres(/** @type {number} */ (is.changeL))) };
    announce(saved.value.says);
  };
  if (saved.value) return html`<${ChangeSaved} of=${of} saved=${saved.value} again=${() => (saved.value = undefined)} />`;
  const form = { draft, doubts: said, left };
  return html`<form class="change" onSubmit=${save} onFocusOut=${left.leave} novalidate>
    ${draft.found.value && html`<p class="soft" data-draft>${all.draft}</p>`}
    <p>${t.lead}</p>
    <div class="pair"><${Figure} name="changeL" label=${t.litres(volumeUnit())} ...${form} /><${Figure} name="volume" label=${t.volume(volumeUnit())} ...${form} /></div>
    <div class="pair"><${Figure} name="now" label=${t.now} ...${form} /><${Figure} name="target" label=${t.target} ...${form} /></div>
    <p class="soft">${read && last ? t.nowFrom(figure(read.salinity, 1), all.tank.age(Math.floor((now.value - Date.parse(last.at)) / 60_000))) : t.nowNone}</p>
    <div class="pair"><${Figure} name="temperature" label=${t.temperature(degreeUnit())} ...${form} /><${Figure} name="times" label=${t.times} ...${form} /></div>
    <${Figure} name="yield" label=${t.yield} hint=${t.yieldHint} ...${form} />
    <${ChangePlan} asked=${Boolean(request)} heard=${heard} litresEach=${is.changeL} />
    <fieldset class="field"><legend>${t.from}</legend><div class="tank-options">${Object.entries(t.froms).map(([word, words]) => html`<label class="option" key=${word}><input type="radio" name="from" value=${word} checked=${from === word} onChange=${() => draft.set({ from: word })} /> ${words}</label>`)}</div>
      ${from === 'system' && html`<div class="field"><label for="system">${t.which}</label><select id="system" name="system" onChange=${(/** @type {any} */ e) => draft.set({ system: e.target.value })}><option value="">${t.whichNone}</option>
        ${sources(of).map(({ id, name }) => html`<option key=${id} value=${id} selected=${draft.fields.system.value === id}>${name}</option>`)}</select></div>`}
      ${restarts && html`<p class="heed" data-restarts role="status">${restartWords(of)}</p>`}</fieldset>
    <p class="wrong" role="alert">${says.value}</p>
    <div class="actions"><button type="submit" class=${restarts && waits(of) !== 0 ? 'main grave' : 'main'} data-do="keep" aria-disabled=${busy.value}>${restarts && waits(of) !== 0 ? t.saveRestart : t.save}</button></div>
  </form>`;
}

/**
 * Where water can come from: the other systems, and the tanks that stand alone.
 * @param {string} of
 * @returns {{id: string, name: string}[]}
 */
function sources(of) {
  const here = systemOf(of)?.ref;
  const alone = (picture.value?.systems ?? []).filter(({ key }) => key.startsWith('tank/')).map(({ key }) => ({ key, id: key.slice('tank/'.length), name: nameOf(key) }));
  return [...systems.value.map(({ id, name }) => ({ key: `system/${id}`, id, name: String(name) })), ...alone].filter(({ key, name }) => key !== here && name);
}

/**
 * How many wait in its water; undefined where that is not reckoned.
 * @param {string} of
 */
function waits(of) {
  if (!picture.value) return undefined;
  const state = systemOf(of)?.state;
  return state && ['waiting', 'paused', 'done', 'stopped'].includes(state.state) ? state.residents.length : 0;
}

/** @param {string} of */
function restartWords(of) {
  const n = waits(of);
  return n === undefined ? t.unknown : n > 0 ? t.restarts(n) : t.restartsNone;
}
