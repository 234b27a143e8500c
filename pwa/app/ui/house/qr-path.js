// The dark modules of a QR code as one path. Nothing here but text.

/** The light around the code, in modules. */
export const QUIET = 4;

/**
 * A rectangle for every run of dark modules in a row, a module being one unit.
 * @param {string[]} rows of 1 for dark
 */
export function qrPath(rows) {
  const runs = rows.flatMap((row, y) => Array.from(row.matchAll(/1+/g), (run) => `M${Number(run.index) + QUIET} ${y + QUIET}h${run[0].length}v1h-${run[0].length}z`));
  return runs.join('');
}
