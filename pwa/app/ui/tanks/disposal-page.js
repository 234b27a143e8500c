// What must go: an animal, weed, water. Never to the sea. It gives no instructions for killing.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { Link } from '../parts/link.js';
import { recallKinds } from '../parts/kinds.js';
import { Page } from '../house/page.js';
import { setHousehold } from '../../data/household.js';
import { AskDrain, drain } from './acclimate-water.js';
import { may, nameOf, picture, specimenOf } from './picture-state.js';
import { fate } from '../../text/en-tank-fate.js';
import { paper } from '../../text/en-tank-paper.js';
import { tanks as words } from '../../text/en-tanks.js';

/** @typedef {{say: string, from: string}} Said */

/** @param {{of: string[]}} props id of a specimen, or the part that is asked for first: "weed", "water" */
export function DisposalPage({ of: [of] }) {
  const t = fate.disposal;
  useEffect(() => {
    recallKinds();
    if (of === 'weed' || of === 'water') document.getElementById(of)?.scrollIntoView();
  }, []);
  const one = specimenOf(of ?? '');
  return html`<${Page} title=${t.title} to=${one ? `/tanks/specimen/${one.id}` : '/tanks'} back=${one ? nameOf(`specimen/${one.id}`) : words.title}>
    <div class="heed"><p><strong>${t.never}</strong></p><p class="soft">${fate.trouble.from(t.neverFrom)}</p></div>
    <p class="heed">${t.stop}</p>
    ${one && html`<${One} one=${one} />`}
    <section><h2>${t.specimen}</h2><${Steps} list=${t.specimenSteps} /></section>
    <section id="weed"><h2>${t.weed}</h2><${Steps} list=${t.weedSteps} /></section>
    <section id="water"><h2>${t.water}</h2><${Drain} /><${Steps} list=${t.waterSteps} /></section>
    <p>${t.tools} <span class="soft">${fate.trouble.from(t.toolsFrom)}</span></p>
  <//>`;
}

/** @param {{list: Said[]}} props */
const Steps = ({ list }) => html`<ul class="points">${list.map((step) => html`<li key=${step.say}><${Says} step=${step} /></li>`)}</ul>`;

/** @param {{step: Said}} props */
const Says = ({ step: { say, from } }) => html`<p>${say}</p><p class="soft">${fate.trouble.from(from)}</p>`;

/** @param {{one: NonNullable<ReturnType<typeof specimenOf>>}} props */
function One({ one }) {
  const t = fate.disposal;
  const { state } = one;
  if (!picture.value || !state) return html`<p class="heed" role="status" data-disposal="not-reckoned">${t.notReckoned}</p>`;
  if (state.gone || !may.value.decide) return null;
  if (state.missing.includes('stopped') || state.handOn.includes('stopped')) return html`<p class="heed" data-disposal="stopped"><strong>${t.stopped}</strong></p>`;
  return html`<p class="doing" data-disposal="may">${state.handOn.length === 0 && html`<${Link} class="button" to=${`/tanks/hand-on/${one.id}`}>${t.handOn}<//>`}
    <${Link} class="button" to=${`/tanks/specimen/${one.id}/gone`} data-do="gone">${t.write(nameOf(`specimen/${one.id}`))}<//></p>`;
}

/** Where the sink drains, asked once, and what follows. */
function Drain() {
  const t = fate.disposal;
  const asks = useSignal(false);
  const says = useSignal('');
  const is = drain.value;
  const step = t.drainSays[is] ?? t.drainSays.unknown;
  const choose = async (/** @type {string} */ to) => {
    says.value = (await setHousehold({ sinkDrain: to })) ? t.drainKept : paper.unkept;
    asks.value = false;
  };
  return html`<div class="drain" data-drain=${is || 'not-said'}>
    ${is && html`<div class="heed"><${Says} step=${step} /></div>`}
    ${!may.value.decide ? !is && html`<p>${t.drainKeeper}</p><div class="heed"><${Says} step=${step} /></div>`
      : is && !asks.value ? html`<button type="button" class="quiet" data-do="ask" onClick=${() => (asks.value = true)}>${t.change}</button>`
      : html`<${AskDrain} is=${is} choose=${choose} />`}
    <p class="soft" role="status">${says.value}</p></div>`;
}
