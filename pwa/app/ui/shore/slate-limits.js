// The limits on file on the slate, with the age of their check.

import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { useOnFile } from './on-file-state.js';
import { takes } from '../../text/en-takes.js';
import { verdict } from '../../text/en-verdict.js';

/** Lines that the sheet has room for; the rest stands on the phone. */
const MOST = 8;
/** Letters of one line. */
const LETTERS = 110;

/**
 * @param {{outing: import('./outing.js').Outing, shore: import('../../data/shore-record.js').Shore, at: string, takes: (lines: number) => void}} props
 *   at: an instant of its day; takes: how many lines of the sheet it takes
 */
export function SlateLimits({ outing, shore, at, takes: room }) {
  const t = verdict.slate;
  const found = useOnFile({ shore, outing, at });
  const lines = found?.sets.flatMap((set) => set.rules.filter((/** @type {any} */ { applies }) => applies !== 'no').flatMap((/** @type {any} */ rule) => {
    // That a kind may be taken goes without saying where it says how much of it.
    const more = rule.says.filter((/** @type {any} */ { what }) => what !== 'take');
    // On paper nothing is permitted by a set that is not in force, or by a rule that may not hold there.
    const permits = rule.take === 'allowed' && (more.length > 0 || !set.inForce || rule.applies !== 'yes');
    const says = (permits ? more : rule.says).map((/** @type {any} */ one) => one.text.replace(/\.$/, '')).join('; ');
    return says ? [{ key: `${set.id} ${rule.id}`, of: rule.of, says: rule.applies === 'yes' ? says : t.maybe(says) }] : [];
  })) ?? [];
  const shown = lines.slice(0, MOST);
  const height = shown.reduce((sum, { of, says }) => sum + Math.ceil((of.length + says.length) / LETTERS), 0) + (found?.sets.length ?? 0);
  useEffect(() => room(height), [height]);
  if (!found) return html`<p data-limits="none">${t.waiting}</p>`;
  if (found.sets.length === 0) return html`<p data-limits="0"><strong>${takes.noRules}</strong></p>`;
  return html`<div data-limits=${lines.length}>
    ${found.sets.map((set) => html`<p key=${set.id}>${t.set(set.name, set.authority ? t.whom(set.authority, set.ask) : '', set.checked ? t.checked(set.checked.on, set.checked.by, set.ageDays) : verdict.unchecked)} ${set.stale ? html`<strong>${verdict.stale}</strong>` : ''} ${set.fault && t.fault}</p>`)}
    <ul class="slate-limits">${shown.map(({ key, of, says }) => html`<li key=${key}><strong>${of}:</strong> ${says}.</li>`)}</ul>
    ${lines.length > MOST && html`<p>${t.more(lines.length - MOST)}</p>`}
    <p>${verdict.above}</p></div>`;
}
