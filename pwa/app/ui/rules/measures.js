// Amounts as notices print them, and as the book keeps them: grams, millilitres, millimetres,
// shares of one. Nothing here but arithmetic.

/**
 * What a unit may be written in: its name, and how many of the book's unit it is, exactly (NIST
 * SP 811, appendix B.8; gallon and fluid ounce are those of the US).
 * @type {Record<string, [string, number][]>}
 */
export const WRITTEN_IN = {
  count: [['', 1]],
  containers: [['containers', 1]],
  share: [['%', 0.01]],
  g: [['g', 1], ['kg', 1000], ['lb', 453.59237], ['oz', 28.349523125]],
  mL: [['mL', 1], ['L', 1000], ['gal', 3785.411784], ['fl oz', 29.5735295625]],
  mm: [['mm', 1], ['cm', 10], ['in', 25.4]],
};

/**
 * Large metric units, and from which value on they read better.
 * @type {Record<string, [string, number]>}
 */
const LARGE = { g: ['kg', 1000], mL: ['L', 1000], mm: ['cm', 100] };
const MOST_DECIMALS = 2;

/**
 * How many decimals a number has, up to two; undefined for more.
 * @param {number} n
 */
function decimalsOf(n) {
  for (let d = 0; d <= MOST_DECIMALS; d++) if (Math.abs(n - Number(n.toFixed(d))) <= 1e-9 * Math.max(1, Math.abs(n))) return d;
  return undefined;
}

/**
 * A value of the book as somebody would write it.
 * @param {number} value
 * @param {string} unit of the book
 * @returns {{written: string, as: string}} as is one of WRITTEN_IN
 */
export function written(value, unit) {
  const units = WRITTEN_IN[unit];
  const [large, from] = LARGE[unit] ?? ['', 0];
  const in_ = units.map(([as, factor]) => ({ as, n: value / factor, decimals: decimalsOf(value / factor) ?? MOST_DECIMALS + 1 }));
  const best = in_.find(({ as, decimals }) => as === large && value >= from && decimals <= 1)
    ?? in_.reduce((least, one) => (one.as !== large && one.decimals < least.decimals ? one : least));
  if (best.decimals > MOST_DECIMALS) return { written: String(Number(in_[0].n.toPrecision(12))), as: in_[0].as };
  return { written: String(Number(best.n.toFixed(MOST_DECIMALS))), as: best.as };
}

/**
 * What somebody wrote, in the book's unit; undefined for what is no amount of it.
 * @param {string} typed with a point or a comma
 * @param {string} as
 * @param {string} unit of the book
 */
export function read(typed, as, unit) {
  const tidy = typed.trim().replace(',', '.');
  const factor = new Map(WRITTEN_IN[unit]).get(as);
  if (factor === undefined || !/^(\d{1,7}(\.\d{0,8})?|\.\d{1,8})$/.test(tidy)) return undefined;
  const value = Number((Number(tidy) * factor).toPrecision(12));
  return (unit === 'count' || unit === 'containers') && !Number.isInteger(value) ? undefined : value;
}

/**
 * "4.5 kg", "80 mm", "10 lb (4535.92 g)".
 * @param {number} value
 * @param {string} unit
 */
export function measure(value, unit) {
  const { written: n, as } = written(value, unit);
  const other = ['lb', 'oz', 'gal', 'fl oz', 'in'].includes(as) ? ` (${Number(value.toFixed(2))} ${unit})` : '';
  return `${n}${as && as !== 'containers' && as !== '%' ? ` ${as}` : ''}${other}`;
}
