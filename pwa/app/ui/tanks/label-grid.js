// Labels on a sheet, in millimetres: our own grids for sheets as shops have them, and the
// household's own. Nothing here but numbers.

/** @typedef {'a4' | 'letter'} Paper */
/**
 * Columns and rows of labels of one size, mm; left and top are the margins before the first,
 * gapX and gapY lie between two.
 * @typedef {{paper: Paper, columns: number, rows: number, width: number, height: number, left: number, top: number, gapX: number, gapY: number}} Grid
 */

/**
 * ISO 216 and ANSI/ASME Y14.1, mm.
 * @type {Record<Paper, {width: number, height: number}>}
 */
export const PAPERS = { a4: { width: 210, height: 297 }, letter: { width: 215.9, height: 279.4 } };

/** What a label must say has no room on less, mm; more is a poster. */
export const LEAST = { width: 60, height: 36 };

/**
 * The sheets to choose from. cut: plain paper with lines to cut along.
 * @type {Record<string, Grid & {cut?: boolean}>}
 */
export const GRIDS = {
  'a4-cut': { paper: 'a4', columns: 2, rows: 5, width: 90, height: 52, left: 15, top: 18.5, gapX: 0, gapY: 0, cut: true },
  'a4-24': { paper: 'a4', columns: 3, rows: 8, width: 70, height: 37, left: 0, top: 0.5, gapX: 0, gapY: 0 },
  'a4-21': { paper: 'a4', columns: 3, rows: 7, width: 63.5, height: 38.1, left: 7.25, top: 15.15, gapX: 2.5, gapY: 0 },
  'a4-14': { paper: 'a4', columns: 2, rows: 7, width: 99.1, height: 38.1, left: 4.65, top: 15.15, gapX: 2.5, gapY: 0 },
  'a4-8': { paper: 'a4', columns: 2, rows: 4, width: 99.1, height: 67.7, left: 4.65, top: 13.1, gapX: 2.5, gapY: 0 },
  'letter-cut': { paper: 'letter', columns: 2, rows: 5, width: 90, height: 50, left: 17.95, top: 14.7, gapX: 0, gapY: 0, cut: true },
  'letter-10': { paper: 'letter', columns: 2, rows: 5, width: 101.6, height: 50.8, left: 4, top: 12.7, gapX: 4.7, gapY: 0 },
};

/** Millimetres that rounding may cost. */
const SLACK = 0.05;

/**
 * What is wrong with a grid of one's own: the part, and a word for why.
 * @param {Grid} grid
 * @returns {{part: keyof Grid, why: 'number' | 'small' | 'wide' | 'high'} | undefined}
 */
export function gridWrong(grid) {
  const { width, height } = PAPERS[grid.paper];
  for (const part of /** @type {const} */ (['columns', 'rows'])) if (!Number.isInteger(grid[part]) || grid[part] < 1 || grid[part] > 10) return { part, why: 'number' };
  for (const part of /** @type {const} */ (['width', 'height', 'left', 'top', 'gapX', 'gapY'])) if (!(grid[part] >= 0 && grid[part] <= 300)) return { part, why: 'number' };
  if (grid.width < LEAST.width) return { part: 'width', why: 'small' };
  if (grid.height < LEAST.height) return { part: 'height', why: 'small' };
  if (grid.left + grid.columns * grid.width + (grid.columns - 1) * grid.gapX > width + SLACK) return { part: 'columns', why: 'wide' };
  if (grid.top + grid.rows * grid.height + (grid.rows - 1) * grid.gapY > height + SLACK) return { part: 'rows', why: 'high' };
  return undefined;
}

/**
 * Puts labels on sheets, row by row.
 * @template T
 * @param {Grid} grid
 * @param {T[]} labels
 * @param {number} [used] how many places of the first sheet are gone
 * @returns {{label: T, x: number, y: number}[][]} sheets; x and y in mm from the corner of the paper
 */
export function sheetsOf(grid, labels, used = 0) {
  const places = grid.columns * grid.rows;
  const start = Math.min(Math.max(0, Math.floor(used)), places - 1);
  /** @type {{label: T, x: number, y: number}[][]} */
  const sheets = [];
  labels.forEach((label, i) => {
    const at = i + start;
    const [column, row] = [at % grid.columns, Math.floor((at % places) / grid.columns)];
    (sheets[Math.floor(at / places)] ??= []).push({ label, x: round(grid.left + column * (grid.width + grid.gapX)), y: round(grid.top + row * (grid.height + grid.gapY)) });
  });
  return sheets;
}

/** @param {number} mm */
const round = (mm) => Math.round(mm * 100) / 100;
