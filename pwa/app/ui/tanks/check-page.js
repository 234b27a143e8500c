// A look in two touches: no signs seen; or what was seen, on whom, how grave it is thought.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { Link } from '../parts/link.js';
import { recallKinds } from '../parts/kinds.js';
import { keptDraft } from '../../data/drafts.js';
import { go } from '../route.js';
import { Page } from '../house/page.js';
import { adultLooks, WhoLooks } from './check-who.js';
import { SeenForm, draftOf } from './check-seen.js';
import { recallSigns } from './check-signs.js';
import { checkNow, takeBack } from './due-acts.js';
import { may, nameOf, namesOfAll, picture, read, specimenOf, systemOf } from './picture-state.js';
import { StateWord } from './strip.js';
import { progress } from './system-row.js';
import { tanks as text } from '../../text/en-tanks.js';

/** @param {{of: string[]}} props kind and id: a system, a tank or one specimen */
export function CheckPage({ of: [kind = '', id = ''] }) {
  const t = text.check;
  useEffect(() => {
    recallKinds();
    recallSigns();
  }, []);
  const ref = `${kind}/${id}`;
  const one = kind === 'specimen' ? specimenOf(id) : undefined;
  const system = systemOf(one?.state?.system ?? ref);
  const name = nameOf(ref) || system?.name || '';
  const back = kind === 'specimen' ? `/tanks/specimen/${id}` : `/tanks/system/${ref}`;
  if (!name) return html`<${Page} title=${t.title('')} to="/tanks" back=${text.back}>${read.value && html`<p>${text.gone}</p>`}<//>`;
  if (!may.value.note) return html`<${Page} title=${t.title(name)} to=${back} back=${name}><p>${text.reads}</p><//>`;
  const state = system?.state;
  const residents = one ? [id] : state?.residents ?? [];
  return html`<${Page} title=${t.title(name)} to=${back} back=${name}><div class="check-page" data-check=${ref}>
    ${state && html`<p><${StateWord} state=${state.state} /> ${progress(state, picture.value?.day ?? '')}</p>`}
    ${residents.length > 1 && html`<p class="soft">${t.everybody(text.and(namesOfAll(residents).slice(0, 6)))}</p>`}
    <${WhoLooks} />
    <${Look} key=${ref} of=${ref} residents=${residents} name=${name} back=${back} />
  </div><//>`;
}

/** @param {{of: string, residents: string[], name: string, back: string}} props */
function Look({ of, residents, name, back }) {
  const t = text.check;
  const seen = useSignal(false);
  const done = useSignal(/** @type {import('./due-acts.js').Done | undefined} */ (undefined));
  const busy = useSignal(false);
  useEffect(() => void keptDraft(draftOf(of)).then((kept) => kept && (seen.value = true)), []);
  const quiet = async (/** @type {boolean} */ night) => {
    if (busy.value) return;
    busy.value = true;
    const { id, kept } = await checkNow(of, night ? { night: true } : undefined);
    busy.value = false;
    done.value = { says: night ? text.due.done.search(name) : text.due.done.check(name), ids: [id], kept };
    announce(kept ? done.value.says : text.unkept);
    requestAnimationFrame(() => document.getElementById('looked')?.focus());
  };
  if (done.value) {
    const undo = async () => {
      if (done.value) await takeBack(done.value);
      done.value = undefined;
    };
    return html`<div class="saved" data-done=${done.value.kept}><p id="looked" tabindex="-1">${done.value.kept ? done.value.says : text.unkept} ${!adultLooks.value && done.value.kept ? text.who.child : ''}</p>
        ${may.value.decide && html`<button type="button" class="quiet" data-do="undo" onClick=${undo}>${text.due.undo}</button>`}</div>
      <div class="tank-do"><${Link} class="button main" to="/tanks">${t.toTanks}<//><${Link} class="button" to=${back}>${t.toSystem(name)}<//></div>`;
  }
  return html`<div class="look">
    <button type="button" class="main large" data-do="quiet" aria-disabled=${busy.value} onClick=${() => quiet(false)}>${t.quiet}</button>
    <button type="button" data-do="night" onClick=${() => quiet(true)}>${t.night}</button>
    <button type="button" data-do="seen" aria-expanded=${seen.value} onClick=${() => (seen.value = !seen.value)}>${t.seen}</button>
    ${seen.value && html`<${SeenForm} of=${of} residents=${residents} done=${(/** @type {import('./due-acts.js').Done} */ is) => {
      if (!is.kept) return;
      done.value = is;
      requestAnimationFrame(() => document.getElementById('looked')?.focus());
    }} />`}
    <p class="soft">${t.words}</p>
    <button type="button" class="quiet" data-do="leave" onClick=${() => go(back)}>${t.leave}</button>
  </div>`;
}
