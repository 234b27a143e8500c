// Placing labels so that they do not cover each other. Nothing here but arithmetic.

/**
 * Moves labels of one row apart, each as little as needed, within [from, to).
 * @template {{x: number, width: number}} Label
 * @param {Label[]} labels x is the wished middle
 * @param {number} from
 * @param {number} to
 * @returns {Label[]} x is the middle where it now stands
 */
export function spread(labels, from, to) {
  const row = [...labels].sort((a, b) => a.x - b.x).map((label) => ({ ...label, x: Math.min(Math.max(label.x, from + label.width / 2), to - label.width / 2) }));
  const gap = (/** @type {number} */ i) => (row[i - 1].width + row[i].width) / 2;
  for (let i = 1; i < row.length; i++) row[i].x = Math.max(row[i].x, row[i - 1].x + gap(i));
  // What was pushed over the edge pushes back.
  for (let i = row.length - 1; i >= 0; i--) {
    const most = i === row.length - 1 ? to - row[i].width / 2 : row[i + 1].x - gap(i + 1);
    row[i].x = Math.min(row[i].x, most);
  }
  return row;
}
