// The steps about a set as a whole: who makes the rules, where they are written, where they hold.

import { html } from '../parts/html.js';
import { Radios, TextIn, Tick } from './inputs.js';
import { draft, setDraft } from './write-draft.js';
import { LAYERS } from './write-fields.js';
import { ruleForm as t } from '../../text/en-rule-form.js';
import { rules } from '../../text/en-rules.js';

/** @typedef {{of: string, wrong: Record<string, string>}} Props */

const now = () => /** @type {import('./write-draft.js').Draft} */ (draft.value).set;

/**
 * @param {'name' | 'authority' | 'ask' | 'source' | 'sourceDate' | 'from' | 'to' | 'place'} field
 * @param {Record<string, string>} wrong
 * @param {Record<string, any>} [more]
 */
const line = (field, wrong, more) => html`<${TextIn} id=${`set-${field}`} label=${t[field]} hint=${/** @type {Record<string, any>} */ (t)[`${field}Hint`]} value=${now()[field]} wrong=${wrong[`set-${field}`]}
  set=${(/** @type {string} */ is) => setDraft({ [field]: is })} ...${more} />`;

/** @param {Props} props */
export function StepWho({ wrong }) {
  const { layer } = now();
  const own = layer === 'household' ? { hint: undefined } : {};
  const layers = layer === 'household' ? [layer] : LAYERS;
  return html`<${Radios} name="set-layer" legend=${t.layer} value=${layer} set=${(/** @type {string} */ is) => setDraft({ layer: is })} options=${layers.map((is) => [is, t.layers[is]])} wrong=${wrong['set-layer']} />
    ${line('authority', wrong, own)}${line('ask', wrong, own)}${line('name', wrong)}`;
}

/** @param {Props} props */
export function StepSource({ wrong }) {
  const { purposes } = now();
  return html`${line('source', wrong, { lines: 2 })}${line('sourceDate', wrong, { type: 'date' })}
    <p class="soft">${t.fromHint}</p><div class="pair">${line('from', wrong, { type: 'date', hint: undefined })}${line('to', wrong, { type: 'date' })}</div>
    <fieldset class="field"><legend>${t.purposes}</legend><p class="soft">${t.purposesHint}</p>
      ${Object.entries(rules.set.purpose).map(([is, words]) => html`<${Tick} key=${is} name=${`for-${is}`} label=${words} checked=${purposes.includes(is)}
        set=${(/** @type {boolean} */ on) => setDraft({ purposes: on ? [...purposes, is] : purposes.filter((one) => one !== is) })} />`)}</fieldset>`;
}

/** @param {Props} props */
export function StepWhere({ wrong }) {
  return html`${line('place', wrong, { lines: 2 })}${!now().area.everywhere && html`<p class="heed">${t.drawn}</p>`}`;
}
