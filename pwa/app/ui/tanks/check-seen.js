// What was seen: a word for it, on whom, how grave it is thought, a photo. A child raises it;
// an adult looks into it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { write } from '../../data/book.js';
import { dropDraft, keepDraft, keptDraft } from '../../data/drafts.js';
import { uuidv7 } from '../../data/ids.js';
import { Choices } from '../shore/find-parts.js';
import { photoFields } from '../shore/find.js';
import { instant } from '../shore/outing-state.js';
import { PhotoPick } from '../shore/photo-pick.js';
import { isChild, observer } from './check-who.js';
import { groupOf, signsFor, sourceOf } from './check-signs.js';
import { checkNow } from './due-acts.js';
import { nameOf } from './picture-state.js';
import { MOST_WORDS, wordsWrong } from './specimen-act.js';
import { gradeWord } from './system-log.js';
import { tanks as text } from '../../text/en-tanks.js';

/** Grades, the mildest first; what nobody can grade counts as a sign. */
const GRADES = ['harmless', 'watch', 'pest', 'notify', 'unsure'];

/**
 * A child's phone raises nothing that would pass unseen by an adult.
 * @param {string} grade
 */
const asRaised = (grade) => (isChild.peek() && grade === 'harmless' ? 'watch' : grade);

/** @param {string} of what is looked at */
export const draftOf = (of) => `tanks:seen:${of}`;

/** @param {{of: string, residents: string[], done: (done: import('./due-acts.js').Done) => void}} props */
export function SeenForm({ of, residents, done }) {
  const t = text.check;
  const id = useSignal(uuidv7());
  const what = useSignal('');
  const own = useSignal('');
  const on = useSignal(of);
  const grade = useSignal('');
  const photos = useSignal(/** @type {string[]} */ ([]));
  const wrong = useSignal('');
  const busy = useSignal(false);
  // The page may be loaded again behind an open camera: what was entered is kept before.
  useEffect(() => void keptDraft(draftOf(of)).then((kept) => {
    if (!kept) return;
    [id.value, what.value, own.value, on.value, grade.value] = [kept.id, kept.what, kept.own, kept.on, kept.grade];
    photos.value = kept.photos;
  }), []);
  const keep = () => keepDraft(draftOf(of), { id: id.value, what: what.value, own: own.value, on: on.value, grade: grade.value, photos: photos.value });
  const groups = [...new Set((on.value.startsWith('specimen/') ? [on.value.slice('specimen/'.length)] : residents).map(groupOf))];
  const words = signsFor(groups);
  const chosen = words.find((sign) => sign.what === what.value);
  const pick = (/** @type {import('./check-signs.js').SignWord} */ sign) => {
    what.value = what.value === sign.what ? '' : sign.what;
    grade.value = what.value ? asRaised(sign.grade) : '';
    wrong.value = '';
  };
  const chips = (/** @type {boolean} */ found, /** @type {string} */ legend) => {
    const list = words.filter((sign) => Boolean(sign.found) === found);
    return list.length > 0 && html`<fieldset><legend>${legend}</legend><div class="sign-words">${list.map((sign) => html`<button key=${sign.id} type="button" aria-pressed=${what.value === sign.what} data-sign-word=${sign.id} onClick=${() => pick(sign)}>${sign.what}</button>`)}</div></fieldset>`;
  };
  const save = async () => {
    if (busy.value) return;
    const says = what.value || own.value.trim();
    wrong.value = wordsWrong(says, t.needWhat);
    if (wrong.value) {
      announce(wrong.value);
      return document.getElementById('own-words')?.focus();
    }
    busy.value = true;
    const is = grade.value || 'unsure';
    const by = observer.peek();
    let kept = await write('event', id.value, { sign: { at: instant(), of: on.value, by, what: says, grade: is, ...(chosen ? { kind: chosen.id } : {}) }, ...photoFields(photos.value) });
    const ids = [id.value];
    // Harmless and watch say nothing of the others: they were looked at all the same.
    if (is === 'harmless' || is === 'watch') {
      const look = await checkNow(of);
      ids.push(look.id);
      kept = look.kept && kept;
    }
    busy.value = false;
    const said = t.raised(says, gradeWord(is), /** @type {Record<string, string>} */ (text.signs.means)[is] ?? '');
    announce(kept ? said : text.unkept);
    if (kept) await dropDraft(draftOf(of));
    if (kept) done({ says: said, ids, kept });
    else wrong.value = text.unkept;
  };
  return html`<div class="seen" data-seen>
    ${residents.length > 1 && html`<div class="field"><label for="on-whom">${t.on}</label><select id="on-whom" onChange=${(/** @type {any} */ e) => (on.value = e.target.value)}>
      <option value=${of} selected=${on.value === of}>${t.onAll}</option>
      ${residents.map((who) => html`<option key=${who} value=${`specimen/${who}`} selected=${on.value === `specimen/${who}`}>${nameOf(`specimen/${who}`)}</option>`)}</select></div>`}
    ${chips(false, t.what)}${chips(true, t.found)}
    ${chosen && html`<p data-look><strong>${chosen.what}</strong>${chosen.look && `: ${chosen.look}`}. <span class="soft">${t.suggests(gradeWord(chosen.grade), sourceOf(chosen.from))}</span></p>`}
    ${!what.value && html`<div class="field"><label for="own-words">${t.own}</label><input id="own-words" type="text" maxlength=${MOST_WORDS} autocomplete="off" value=${own.value} onInput=${(/** @type {any} */ e) => (own.value = e.target.value)} aria-invalid=${Boolean(wrong.value)} aria-describedby="own-words-wrong" />
      <p id="own-words-wrong" class="wrong">${wrong.value}</p></div>`}
    ${isChild.value ? html`<p class="soft">${t.childGrade}</p>` : html`<${Choices} name="grade" legend=${t.grade} is=${grade.value || 'unsure'} choose=${(/** @type {string} */ is) => (grade.value = is)} options=${GRADES.map((is) => [is, gradeWord(is)])} />`}
    <p class=${['pest', 'notify', 'unsure'].includes(grade.value || 'unsure') ? 'heed' : 'soft'} data-means=${grade.value || 'unsure'}>${/** @type {Record<string, string>} */ (text.signs.means)[grade.value || 'unsure']}</p>
    <${PhotoPick} photos=${() => photos.value} before=${keep} set=${(/** @type {string[]} */ list) => {
      photos.value = list;
      return keep();
    }} back=${() => {}} />
    <button type="button" class="main" data-do="save-sign" aria-disabled=${busy.value} onClick=${save}>${t.save}</button>
  </div>`;
}
