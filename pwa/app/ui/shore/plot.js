// A map-like plot of finds: a grid of metres with a scale bar and north up, drawn from
// their positions alone.

import { html } from '../parts/html.js';
import { useWidth } from '../parts/width.js';
import { barM, flat } from './plot-grid.js';
import { text } from '../../text/en.js';
import { amountIn } from '../../text/unit.js';

/** @typedef {{number: number, position: import('./find.js').Position}} Placed */

/** The least width of ground that is drawn, metres: a phone knows no better. */
const LEAST_M = 20;
const MARGIN = 28;
/** What numbers may cover of each other before they are written in a row. */
const NEAR_PX = 18;

/** @param {Placed[]} placed */
export function layOut(placed) {
  const { at, errorPercent } = flat(placed.map(({ position }) => position));
  const wide = Math.max(LEAST_M, ...at.map(({ eastM }, i) => 2 * (Math.abs(eastM) + radius(placed[i]))));
  const high = Math.max(LEAST_M, ...at.map(({ northM }, i) => 2 * (Math.abs(northM) + radius(placed[i]))));
  return { at, errorPercent, wide, high };
}

/**
 * How far the circle of a find reaches; one of a kilometre would leave nothing of the rest.
 * @param {Placed} placed
 */
const radius = ({ position: { accuracyM } }) => Math.min(accuracyM ?? 0, 200);

/** @param {{placed: Placed[]}} props */
export function Plot({ placed }) {
  const t = text.outings;
  const { ref, width } = useWidth(358);
  const { at, errorPercent, wide, high } = layOut(placed);
  const scale = Math.min((width - 2 * MARGIN) / wide, (1.2 * width - 2 * MARGIN) / high); // pixels a metre
  const height = Math.max(200, high * scale + 2 * MARGIN);
  const [x0, y0] = [width / 2, height / 2];
  const bar = barM((width - 2 * MARGIN) / scale);
  const step = bar * scale;
  const dots = at.map(({ eastM, northM }, i) => ({ number: placed[i].number, x: x0 + eastM * scale, y: y0 - northM * scale, r: radius(placed[i]) * scale }));
  const lines = (/** @type {number} */ from, /** @type {number} */ to) => {
    const list = [];
    for (let x = from % step; x < to; x += step) list.push(x);
    return list;
  };
  const length = amountIn(bar, 'm');
  return html`<figure class="plot">
    <div ref=${ref}>
      <svg viewBox="0 0 ${width} ${height}" width=${width} height=${height} role="img" aria-label=${`${t.plot}. ${t.plotWhat} ${t.bar(length)}`}>
        <rect class="ground" width=${width} height=${height} />
        ${lines(x0, width).map((x) => html`<path class="grid" d="M${x} 0V${height}" />`)}
        ${lines(y0, height).map((y) => html`<path class="grid" d="M0 ${y}H${width}" />`)}
        ${dots.map(({ x, y, r }) => r > 6 && html`<circle class="within" cx=${x} cy=${y} r=${r} />`)}
        ${dots.map(({ x, y }) => html`<circle class="dot" cx=${x} cy=${y} r="4" />`)}
        ${named(dots).map(({ x, y, words }) => html`<text x=${Math.min(x + 7, width - 9 * words.length - 4)} y=${y - 6}>${words}</text>`)}
        <g transform="translate(${width - 24} 16)"><path class="north" d="M0 0L7 20L0 15L-7 20Z" /><text text-anchor="middle" y="36">${t.north}</text></g>
        <g transform="translate(12 ${height - 14})"><path class="bar-line" d="M0 -6V0H${step}V-6" /><text x=${step + 6} y="2">${length}</text></g>
      </svg>
    </div>
    <figcaption><p>${t.plotWhat} ${t.bar(length)}</p><p class="soft">${t.plotError(Math.max(0.1, Math.ceil(errorPercent * 10) / 10))}</p></figcaption>
  </figure>`;
}

/**
 * One label for finds that lie on each other: "1–3, 7".
 * @param {{number: number, x: number, y: number}[]} dots
 */
function named(dots) {
  /** @type {{x: number, y: number, numbers: number[]}[]} */
  const labels = [];
  for (const { number, x, y } of dots) {
    const near = labels.find((label) => Math.hypot(label.x - x, label.y - y) < NEAR_PX);
    if (near) near.numbers.push(number);
    else labels.push({ x, y, numbers: [number] });
  }
  return labels.map(({ x, y, numbers }) => ({ x, y, words: runs(numbers) }));
}

/** @param {number[]} numbers ascending */
export function runs(numbers) {
  /** @type {[number, number][]} */
  const found = [];
  for (const n of numbers) {
    const last = found[found.length - 1];
    if (last && last[1] === n - 1) last[1] = n;
    else found.push([n, n]);
  }
  return found.map(([from, to]) => (from === to ? String(from) : `${from}–${to}`)).join(', ');
}
