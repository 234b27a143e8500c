// The charts of a water: one a kind that was read, with a reading line for fingers and keys,
// the point that it stands on in words, and all of them as a table.

import { useSignal } from '@preact/signals';
import { html } from '../parts/html.js';
import { now } from '../parts/now.js';
import { dayAndClock } from '../parts/when.js';
import { useWidth } from '../parts/width.js';
import { chartFrame, Drawing } from './chart-drawing.js';
import { nearest, pointsOf, SPANS, spanStart } from './chart-points.js';
import { zone } from './picture-state.js';
import { KINDS } from './reading-kinds.js';
import { readingsOf, rangesOf } from './tank-of.js';
import { alkalinityUnit, rangeOf, rangeWords, shownOf, words } from './tank-ranges.js';
import { estimate } from './tank-salinities.js';
import { water as t } from '../../text/en-tank-water.js';

/** @typedef {import('./chart-points.js').ChartPoint} ChartPoint */
/** @typedef {import('./reading-kinds.js').Kind} Kind */

/** @param {{of: string}} props "tank/…" or "system/…" */
export function Charts({ of }) {
  const span = useSignal(/** @type {import('./chart-points.js').Span} */ ('month'));
  const readings = readingsOf(of);
  const kinds = KINDS.filter((kind) => readings.some((one) => one[kind] !== undefined && one[kind] !== null));
  if (kinds.length === 0) return null;
  return html`<section class="charts" aria-labelledby="charts"><h2 id="charts">${t.tank.charts}</h2>
    <fieldset class="spans"><legend class="unseen">${t.spans.title}</legend>${/** @type {(keyof typeof SPANS)[]} */ (Object.keys(SPANS)).map((is) => html`<label class="option"><input type="radio" name="span" value=${is}
      checked=${span.value === is} onChange=${() => (span.value = is)} /> ${t.spans[is]}</label>`)}</fieldset>
    <div class="chart-grid">${kinds.map((kind) => html`<${Chart} key=${kind} kind=${kind} of=${of} readings=${readings} span=${span.value} />`)}</div>
    <p class="soft">${t.chart.band}</p>
  </section>`;
}

/** @param {{kind: Kind, of: string, readings: ReturnType<typeof readingsOf>, span: import('./chart-points.js').Span}} props */
function Chart({ kind, of, readings, span }) {
  const ranges = rangesOf(of);
  const range = rangeOf(kind, ranges);
  const unit = kind === 'alkalinity' ? alkalinityUnit(ranges, readings.find((one) => one.alkalinity)?.alkalinity.unit) : undefined;
  const toMs = now.value;
  const fromMs = spanStart(toMs, span);
  const points = pointsOf(kind, readings, ranges, fromMs, estimate).filter(({ ms }) => ms <= toMs);
  const { ref, width } = useWidth(Math.min(document.documentElement.clientWidth - 32, 520));
  const chosen = useSignal(/** @type {string | undefined} */ (undefined));
  const open = useSignal(false); // a year of rows is not drawn unseen
  const at = Math.max(0, chosen.value ? points.findIndex(({ id }) => id === chosen.value) : points.length - 1);
  const f = chartFrame(width, fromMs, toMs);
  const band = range && /** @type {[number, number]} */ (range.map((x) => shownOf(kind, x)));
  const say = (/** @type {ChartPoint} */ p) => [words(kind, p.is, unit), p.least !== undefined && p.most !== undefined && t.chart.doubt(words(kind, p.least), words(kind, p.most)), t.within[p.stands]].filter(Boolean).join(', ');
  const when = (/** @type {ChartPoint} */ p) => dayAndClock(new Date(p.ms).toISOString(), zone.value);

  /** @param {number} i */
  const to = (i) => (chosen.value = points[Math.min(Math.max(i, 0), points.length - 1)]?.id);
  /** @param {KeyboardEvent} event */
  const key = (event) => {
    const steps = /** @type {Record<string, number>} */ ({ ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 7, PageDown: -7, Home: -1e6, End: 1e6 });
    if (!(event.key in steps) || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    to(at + steps[event.key]);
  };
  /** @param {PointerEvent} event */
  const point = (event) => {
    const box = /** @type {HTMLElement} */ (event.currentTarget).getBoundingClientRect();
    to(nearest(points, f.msAt(((event.clientX - box.left) / box.width) * f.width)));
  };
  return html`<section class="chart" data-kind=${kind} data-points=${points.length} aria-labelledby=${`chart-${kind}`}>
    <h3 id=${`chart-${kind}`}>${t.kinds[kind]} ${range && html`<span class="soft">${t.tank.target(rangeWords(kind, range, unit))}</span>`}</h3>
    <div ref=${ref}>${points.length === 0 ? html`<p class="soft">${t.chart.none}</p>` : html`
      <p class="reading" data-stands=${points[at].stands}>${when(points[at])}: ${say(points[at])}</p>
      <div class="slide" role="slider" tabindex="0" aria-label=${t.chart.reading(t.kinds[kind])} aria-orientation="horizontal" aria-valuemin="1" aria-valuemax=${points.length} aria-valuenow=${at + 1}
        aria-valuetext=${`${when(points[at])}: ${say(points[at])}`} onKeyDown=${key} onPointerDown=${point} onPointerMove=${(/** @type {PointerEvent} */ event) => (event.buttons || event.pointerType === 'mouse') && point(event)}>
        <${Drawing} points=${points} band=${band} frame=${f} at=${at} zone=${zone.value} />
      </div>
      <details onToggle=${(/** @type {any} */ e) => (open.value = e.currentTarget.open)}><summary>${t.chart.table} <span class="soft">(${points.length === 1 ? t.chart.one : t.chart.many(points.length)})</span></summary>
        ${open.value && html`<div class="scroll" tabindex="0" role="region" aria-label=${`${t.kinds[kind]}: ${t.chart.table}`}><table><thead><tr><th scope="col">${t.chart.when}</th><th scope="col">${t.chart.is}</th><th scope="col">${t.chart.stands}</th></tr></thead>
          <tbody>${[...points].reverse().map((p) => html`<tr key=${p.id}><th scope="row">${when(p)}</th><td>${words(kind, p.is, unit)}${p.least !== undefined && p.most !== undefined && html` <span class="soft">(${words(kind, p.least)}–${words(kind, p.most)})</span>`}</td><td>${t.within[p.stands]}</td></tr>`)}</tbody></table></div>`}</details>`}</div>
  </section>`;
}
