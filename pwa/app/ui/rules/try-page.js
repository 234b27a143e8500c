// "Try it": an imagined find against the sets on file. Nothing is written.

import { computed, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { kinds, recallKinds } from '../parts/kinds.js';
import { clock, localDay } from '../parts/when.js';
import { state } from '../../core.js';
import { records } from '../../data/book.js';
import { visitsOf } from '../../data/rules-ask.js';
import { counted, weigh } from '../../data/rules.js';
import { Page } from '../house/page.js';
import { members, owner, underWay } from '../shore/outing-state.js';
import { verdictAsk } from '../shore/verdict-ask.js';
import { KindChoose } from './kind-choose.js';
import { PickIn, TextIn } from './inputs.js';
import { counts, sets, shores } from './on-file.js';
import { wordsNamed } from './named.js';
import { kindWords } from './says-list.js';
import { newTry, tried } from './try-fields.js';
import { TryVerdict } from './try-verdict.js';
import { VerdictShape } from '../shore/verdict.js';
import { words } from '../../text/en-rule-words.js';
import { ruleForm } from '../../text/en-rule-form.js';
import { rules } from '../../text/en-rules.js';
import { takes } from '../../text/en-takes.js';
import { verdict as v } from '../../text/en-verdict.js';
import { text } from '../../text/en.js';

const visits = computed(() => visitsOf(records('outing').value));

/** An outing that is not on file. */
const IMAGINED = 'imagined';

/** @param {Event} event */
function toVerdict(event) {
  event.preventDefault();
  const at = document.getElementById('try-says');
  at?.scrollIntoView();
  at?.focus();
}

export function TryPage() {
  const t = rules.try_;
  const w = useSignal(newTry());
  const answers = useSignal(/** @type {Record<string, boolean>} */ ({}));
  const got = useSignal(/** @type {{asks: string, is: any} | undefined} */ (undefined));
  useEffect(() => void recallKinds(), []);
  const shore = shores.value.find(({ id }) => id === w.value.shore) ?? shores.value[0];
  const zone = shore?.zone ?? 'UTC';
  useEffect(() => {
    const ms = Date.now();
    w.value = { ...w.peek(), by: w.peek().by || (owner.peek() ?? ''), day: w.peek().day || localDay(ms, zone), time: w.peek().time || clock(new Date(ms).toISOString(), zone) };
  }, [zone]);
  const { find, wrong } = tried(w.value, zone);
  const asks = find && shore && JSON.stringify([{
    ...verdictAsk(/** @type {any} */ (find), { shore, zone, outing: undefined, visits: visits.value, members: records('member').value, answers: answers.value, staleDays: counts.value }),
    purpose: w.value.purpose,
  }, find.at, counted.value]);
  useEffect(() => {
    if (!asks) return undefined;
    let gone = false;
    const [question, at] = JSON.parse(asks);
    question.find.at = at;
    question.find.outing = underWay.peek()?.id ?? IMAGINED; // the find is its only one where none is under way
    weigh('verdict', question).then((is) => !gone && (got.value = { asks, is }), () => !gone && (got.value = undefined));
    return () => {
      gone = true;
    };
  }, [asks, state.value]);
  const set = (/** @type {Partial<import('./try-fields.js').TryWritten>} */ change) => (w.value = { ...w.peek(), ...change });
  const into = (/** @type {string} */ name) => (/** @type {string} */ is) => set({ [name]: is });
  const of = w.value;
  const shown = (/** @type {string} */ id) => (id === 'try-kind' && !of.taxon ? '' : wrong[id]);
  const is = got.value?.asks === asks ? got.value?.is : undefined;
  const states = ['', 'attached', 'drift', 'living', 'empty'];
  return html`<${Page} title=${t.title} to="/house/rules" back=${rules.back}>
    <p class="imagined"><strong>${t.imagined}</strong> ${t.what}</p>
    ${!shore ? html`<p class="heed">${t.noShores}</p>` : html`<div class="rules-cols"><form novalidate data-form="try" onSubmit=${(/** @type {Event} */ e) => e.preventDefault()}>
      <${PickIn} id="try-shore" label=${t.shore} value=${shore.id} set=${into('shore')} options=${shores.value.map(({ id, name }) => [id, name])} />
      <${KindChoose} id="try-kind" label=${t.kind} hint=${t.kindHint} choose=${(/** @type {string} */ taxon, /** @type {string} */ group) => set({ taxon, group })} wrong=${shown('try-kind')} />
      ${of.taxon && html`<p class="chosen-taxon" data-chosen=${of.taxon}>${t.chosen}: <strong>${kindWords(of.taxon)}</strong></p>`}
      ${of.taxon && !kinds.value?.taxa.some(({ name }) => name === of.taxon) && html`<${PickIn} id="try-group" label=${t.group} value=${of.group} set=${into('group')}
        options=${[['', t.unsaid], ...(kinds.value?.groups.map(({ id, name }) => /** @type {[string, string]} */ ([id, name])) ?? [])]} />`}
      <div class="pair"><${TextIn} id="try-amount" label=${t.amount} mode="decimal" value=${of.value} set=${into('value')} wrong=${wrong['try-amount']} />
        <${PickIn} id="try-unit" label=${t.unit} value=${of.unit} set=${into('unit')} options=${Object.entries(text.finds.unitNames)} /></div>
      <${PickIn} id="try-state" label=${t.state} value=${of.state} set=${into('state')} options=${states.map((is) => [is, is ? words.states[is] : t.unsaid])} />
      <${PickIn} id="try-who" label=${t.who} value=${of.by} set=${into('by')} options=${[['', t.nobody], ...members.value.map(({ id, name }) => [id, name])]} />
      <div class="pair"><${TextIn} id="try-day" label=${t.when} type="date" value=${of.day} set=${into('day')} wrong=${wrong['try-day']} />
        <${TextIn} id="try-time" label=${t.clock} type="time" value=${of.time} set=${into('time')} /></div>
      <details class="more"><summary>${t.more}</summary>
        <div class="pair"><${TextIn} id="try-massG" label=${t.mass} mode="decimal" value=${of.massG} set=${into('massG')} wrong=${wrong['try-massG']} />
          <${PickIn} id="try-weighed" label=${t.weighed} value=${of.weighed} set=${into('weighed')} options=${Object.entries(ruleForm.weighed).filter(([is]) => is)} /></div>
        <div class="pair"><${TextIn} id="try-sizeMm" label=${t.size} mode="decimal" value=${of.sizeMm} set=${into('sizeMm')} wrong=${wrong['try-sizeMm']} />
          <${PickIn} id="try-axis" label=${t.axis} value=${of.axis} set=${into('axis')} options=${Object.entries(ruleForm.axis)} /></div>
        <${TextIn} id="try-share" label=${v.share} mode="decimal" value=${of.share} set=${into('share')} wrong=${wrong['try-share']} />
        ${/** @type {const} */ (['gear', 'use', 'substrate']).map((field) => html`<${TextIn} key=${field} id=${`try-${field}`} label=${v.words[field]} hint=${t.wordsOnFile(wordsNamed(sets.value, field))} value=${of[field]} set=${into(field)} />`)}
        <${PickIn} id="try-purpose" label=${t.purpose} value=${of.purpose} set=${into('purpose')} options=${Object.entries(rules.set.purpose)} />
      </details>
      <a class="try-bar verdict-word" href="#try-says" data-panel-verdict=${is?.verdict ?? 'none'} onClick=${toVerdict}><${VerdictShape} of=${is?.verdict ?? ''} /> <strong>${takes.words[is?.verdict ?? '']}</strong></a>
    </form>
    <${TryVerdict} of=${is} asked=${Boolean(asks)} answers=${answers} /></div>`}
  <//>`;
}
