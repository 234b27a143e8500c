// What was typed for a change of water, a top-up or another sum of water.

import { figureOf, temperatureOf } from './reading-typed.js';
import { asLitres, inVolume, typedNumber } from './tank-units.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.wrong;

/** @typedef {'litres' | 'salinity' | 'degrees' | 'pH' | 'ammonia' | 'oxygen' | 'yield' | 'times' | 'cm' | 'amount'} Kind */

/**
 * Between what each kind of figure may lie; litres are bounded in litres.
 * @type {Record<Exclude<Kind, 'degrees' | 'pH' | 'ammonia' | 'oxygen'>, [number, number]>}
 */
const BOUNDS = { litres: [1e-6, 1_000_000], salinity: [0, 42], yield: [1, 2], times: [1, 100], cm: [0.1, 100], amount: [0, 1_000_000] };

/**
 * One figure of a sum.
 * @param {string} name of its field
 * @param {Kind} kind
 * @param {Record<string, string>} typed
 * @param {import('./reading-typed.js').Said} out
 * @returns {number | undefined} metric
 */
export function sumFigure(name, kind, typed, out) {
  if (kind === 'degrees') return temperatureOf(name, typed[name], out);
  if (kind === 'pH' || kind === 'ammonia' || kind === 'oxygen') {
    const of = /** @type {const} */ ({ pH: 'pH', ammonia: 'ammoniaMgNL', oxygen: 'oxygenMgL' })[kind];
    /** @type {import('./reading-typed.js').Said} */
    const said = { fields: {}, wrong: {}, ask: {} };
    const is = figureOf(of, '', { [of]: typed[name] }, said);
    if (said.wrong[of]) out.wrong[name] = said.wrong[of];
    return is;
  }
  const n = typedNumber(typed[name]);
  if (n === undefined) return undefined;
  const is = kind === 'litres' ? asLitres(n) : n;
  const [least, most] = BOUNDS[kind];
  if (is >= least && is <= most && (kind !== 'times' || Number.isInteger(n))) return is;
  out.wrong[name] = Number.isNaN(n) ? t.number : kind === 'litres' ? (n < 0 ? t.negativeLitres : t.litresAmount(inVolume(most))) : kind === 'salinity' ? t.salinity : t.within(least, most);
  return undefined;
}
