// For somebody who does not know the workable height yet: what was predicted on a day that
// is remembered, and what each height is worth on this coast.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { addDays, clock, duration, level, localDay, metres } from '../parts/when.js';
import { call } from '../../core.js';
import { text } from '../../text/en.js';

/**
 * What of the shore is known while its form is filled.
 * @typedef {{station: string, zone: string, differences: import('../../data/shore-record.js').Differences | null, lat?: number, lon?: number}} Draft
 */

/** Rise or fall within a minute, metres, under which the tide is about to turn. */
const SLACK_M = 0.0005;
/** Levels each side of the height, and their step in metres. */
const BESIDE = 4;
const STEP_M = 0.1;

/**
 * @param {{draft: Draft, below: number | undefined, take: (height: string) => void}} props
 *   below is the height written so far; take hears one to write
 */
export function FindHeight({ draft, below, take }) {
  const t = text.find;
  const open = useSignal(false);
  return html`<details class="find" onToggle=${(/** @type {any} */ e) => (open.value = e.currentTarget.open)}>
    <summary>${t.title}</summary>
    ${open.value && html`<${Remembered} draft=${draft} take=${take} /><${Levels} draft=${draft} below=${below} take=${take} />`}
  </details>`;
}

/** @param {{draft: Draft, take: (height: string) => void}} props */
function Remembered({ draft, take }) {
  const t = text.find;
  const day = useSignal(localDay(Date.now(), draft.zone));
  const time = useSignal('');
  const then = useSignal(/** @type {{height: number, trend: string, low: any} | undefined} */ (undefined));
  const wrong = useSignal('');

  useEffect(() => {
    then.value = undefined;
    wrong.value = '';
    if (time.value === '') return;
    if (!/^(19\d\d|20\d\d)-\d\d-\d\d$/.test(day.value) || !/^\d\d:\d\d/.test(time.value)) return void (wrong.value = t.noDay);
    let wanted = true;
    heightAt(draft, day.value, time.value.slice(0, 5)).then(
      (found) => {
        if (!wanted) return;
        if (!found) return void (wrong.value = t.noTime);
        then.value = found;
        announce(t.was(metres(found.height), found.trend));
      },
      (error) => wanted && (wrong.value = error.message),
    );
    return () => {
      wanted = false;
    };
  }, [day.value, time.value, JSON.stringify(draft)]);

  const found = then.value;
  const heightM = found && Math.round(found.height * 20) / 20;
  return html`<div class="field" data-remembered>
    <p>${t.why}</p>
    <div class="pair">
      <label>${t.day} <input type="date" name="good-day" value=${day.value} min="1900-01-01" max="2100-12-31"
        aria-describedby="good-wrong" onChange=${(/** @type {any} */ e) => (day.value = e.target.value)} /></label>
      <label>${t.time} <input type="time" name="good-time" value=${time.value}
        aria-describedby="good-wrong" onChange=${(/** @type {any} */ e) => (time.value = e.target.value)} /></label>
    </div>
    <p id="good-wrong" class="wrong">${wrong.value}</p>
    ${found && heightM !== undefined && html`<p><strong data-then=${found.height}>${t.was(metres(found.height), found.trend)}</strong>${' '}
      ${found.low && t.low(metres(found.low.height), clock(found.low.time, draft.zone))}</p>
      <button type="button" class="quiet" data-do="take" onClick=${() => take(typed(heightM))}>${t.use(level(heightM))}</button>`}
  </div>`;
}

/**
 * The predicted height when the shore's clock showed a time on a day; undefined if it
 * never did. Where a clock is put back it shows some times twice: then the first.
 * @param {Draft} draft
 * @param {string} day YYYY-MM-DD
 * @param {string} time HH:MM
 */
async function heightAt({ station, zone, differences }, day, time) {
  const span = { station, zone, from: day, to: addDays(day, 1), ...(differences ? { differences } : {}) };
  const [{ heights }, { waters }] = await Promise.all([call('heights', { ...span, every: '1m' }), call('tides', span)]);
  const i = heights.findIndex((/** @type {any} */ h) => clock(h.time, zone) === time);
  if (i < 0) return undefined;
  const rise = (heights[i + 1] ?? heights[i]).height - heights[i && i - 1].height;
  const { trends } = text.find;
  const trend = Math.abs(rise) < 2 * SLACK_M ? trends.turning : rise > 0 ? trends.rising : trends.falling;
  const lows = waters.filter((/** @type {any} */ w) => w.kind === 'low').sort((/** @type {any} */ a, /** @type {any} */ b) => a.height - b.height);
  return { height: heights[i].height, trend, low: lows[0] };
}

/** @param {{draft: Draft, below: number | undefined, take: (height: string) => void}} props */
function Levels({ draft, below, take }) {
  const t = text.find;
  const rows = useSignal(/** @type {any[] | undefined} */ (undefined));
  const wrong = useSignal('');
  // About the height that is written; else from the lowest low upward.
  const middle = below !== undefined && Math.abs(below) <= 20 ? Math.round(below / STEP_M) : undefined;

  useEffect(() => {
    let wanted = true;
    const from = localDay(Date.now(), draft.zone);
    const levels = middle === undefined ? undefined
      : Array.from({ length: 2 * BESIDE + 1 }, (_, i) => Math.max(-20, Math.min(20, Math.round((middle + i - BESIDE) * STEP_M * 10) / 10)));
    call('levels', { shore: draftShore(draft), from, to: addDays(from, 365), light: 'sun', ...(levels ? { levels } : {}) }).then(
      (answer) => {
        if (!wanted) return;
        const least = answer.levels.findIndex((/** @type {any} */ l) => l.perMonth > 0);
        rows.value = levels ? answer.levels : answer.levels.slice(Math.max(0, least), Math.max(0, least) + 2 * BESIDE + 1);
        wrong.value = '';
      },
      (error) => wanted && (wrong.value = error.message),
    );
    return () => {
      wanted = false;
    };
  }, [middle, JSON.stringify(draft)]);

  return html`<div class="field">
    <h3 id="levels">${t.levels}</h3>
    <p class="soft">${t.levelsWhy}</p>
    ${wrong.value ? html`<p class="wrong">${wrong.value}</p>` : !rows.value ? html`<p class="soft">${t.reckoning}</p>`
    : html`<table class="levels" aria-labelledby="levels">
      <thead><tr><th scope="col">${t.level}</th><th scope="col">${t.perMonth}</th><th scope="col">${t.fewest}</th><th scope="col">${t.median}</th><td></td></tr></thead>
      <tbody>${rows.value.map((l) => html`<tr key=${l.level} data-level=${l.level} data-per-month=${l.perMonth} aria-current=${middle !== undefined && l.level === middle / 10 ? 'true' : undefined}>
        <th scope="row">${t.metres(level(l.level))}</th><td>${l.perMonth.toFixed(1)}</td><td>${l.fewest ?? ''}</td><td>${l.perMonth > 0 ? duration(l.median) : '–'}</td>
        <td><button type="button" class="quiet" aria-label=${t.takeLabel(level(l.level))} onClick=${() => take(typed(l.level))}>${t.take}</button></td>
      </tr>`)}</tbody>
    </table>`}
  </div>`;
}

/**
 * A height as the form has it, which is in metres whatever this phone shows.
 * @param {number} m
 */
const typed = (m) => m.toFixed(2).replace('-', '−').replace(/0$/, '').replace(/^−(0\.0)$/, '$1');

/** @param {Draft} draft */
function draftShore({ station, zone, differences, lat, lon }) {
  return { station, zone, ...(differences ? { differences } : {}), ...(lat !== undefined && lon !== undefined ? { lat, lon } : {}) };
}
