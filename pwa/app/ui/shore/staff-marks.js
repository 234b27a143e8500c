// Where things stand on the staff. Nothing here but arithmetic; heights are metres or feet,
// places are pixels from the top.

/** More blocks than this would be too thin to be told apart. */
const MOST_BLOCKS = 44;
/** Left free above the highest and below the lowest of what is shown. */
const SPARE = 0.1;

/**
 * The piece of a staff that shows certain heights, divided as real ones are: in tenths or,
 * where that would be too fine, in fifths, halves, metres.
 * @param {number[]} heights at least one
 * @returns {{bottom: number, top: number, block: number}} bottom and top are whole blocks
 */
export function staffFor(heights) {
  const [low, high] = [Math.min(...heights) - SPARE, Math.max(...heights) + SPARE];
  const block = [0.1, 0.2, 0.5, 1, 2].find((one) => (high - low) / one <= MOST_BLOCKS) ?? 5;
  return { bottom: whole(Math.floor(low / block) * block), top: whole(Math.ceil(high / block) * block), block };
}

/** @param {number} height without the dust of binary fractions */
const whole = (height) => Math.round(height * 1000) / 1000;

/**
 * The blocks of a staff, from the bottom: where each begins and whether it is a filled one.
 * @param {{bottom: number, top: number, block: number}} staff
 */
export function blocksOf({ bottom, top, block }) {
  const n = Math.round((top - bottom) / block);
  const first = Math.round(bottom / block);
  return Array.from({ length: n }, (_, i) => ({ from: whole((first + i) * block), to: whole((first + i + 1) * block), filled: (first + i) % 2 === 0 }));
}

/** Figures stand apart at least this many pixels. */
const FIGURE_PX = 34;

/**
 * The heights that are written beside a staff.
 * @param {{bottom: number, top: number}} staff
 * @param {number} pxPerUnit
 */
export function figuresOf({ bottom, top }, pxPerUnit) {
  const step = [0.1, 0.2, 0.5, 1, 2, 5].find((one) => one * pxPerUnit >= FIGURE_PX) ?? 10;
  const first = Math.ceil(bottom / step - 1e-9);
  const last = Math.floor(top / step + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, i) => whole((first + i) * step));
}

/**
 * Moves labels apart so that none covers another, as little as may be and in their order.
 * @param {number[]} wanted places, topmost first
 * @param {number} apart the least distance
 * @param {number} top the least place
 * @param {number} bottom the greatest
 * @returns {number[]}
 */
export function spread(wanted, apart, top, bottom) {
  const places = wanted.map((y) => Math.min(Math.max(y, top), bottom));
  for (let i = 1; i < places.length; i++) places[i] = Math.max(places[i], places[i - 1] + apart);
  // What was pushed out at the bottom pushes back up.
  for (let i = places.length - 1, least = bottom; i >= 0; i--, least = places[i + 1] - apart) places[i] = Math.min(places[i], least);
  return places;
}
