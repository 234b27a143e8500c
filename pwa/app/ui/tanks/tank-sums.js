// The sums of water for themselves: what each takes, what the core is asked, what it says.

import { degrees, figure, grams, litres } from './tank-units.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.sums;

/** @typedef {import('./change-typed.js').Kind} Kind */
/**
 * needed: the figures without which nothing is asked. The rest may be left out.
 * @typedef {{id: string, takes: Record<string, Kind>, needed: string[], asks: (is: Record<string, any>) => object, says: (answer: any, is: Record<string, any>) => string[]}} Sum
 */

const s = (/** @type {number} */ x) => figure(x, 1);
const warm = (/** @type {Record<string, any>} */ is) => (is.temperature === undefined ? {} : { temperatureC: is.temperature });

/** @type {Sum[]} */
export const SUMS = [
  {
    id: 'target', takes: { litres: 'litres', salinity: 'salinity', target: 'salinity', temperature: 'degrees', yield: 'yield' }, needed: ['litres', 'salinity', 'target'],
    asks: (is) => ({ do: 'target', litres: is.litres, salinity: is.salinity, target: is.target, ...warm(is), ...(is.yield ? { yield: is.yield } : {}) }),
    says: (a) => (a.saltG > 0 ? [t.addSalt(grams(a.saltG))] : a.freshL > 0 ? [t.addFresh(litres(a.freshL)), t.swap(litres(a.swapL))] : [t.asIs]),
  },
  {
    id: 'mixed', takes: { litres: 'litres', target: 'salinity', temperature: 'degrees', yield: 'yield' }, needed: ['litres', 'target'],
    asks: (is) => ({ do: 'change', litres: is.litres, salinity: is.target, target: is.target, changeL: is.litres, ...warm(is), ...(is.yield ? { yield: is.yield } : {}) }),
    says: (a) => [a.saltG > 0 ? all.change.salt(grams(a.saltG), litres(a.freshL)) : all.change.fresh(litres(a.freshL)), t.measure],
  },
  {
    id: 'repeat', takes: { litres: 'litres', changeL: 'litres', times: 'times', start: 'amount', added: 'amount' }, needed: ['litres', 'changeL', 'times', 'start'],
    asks: (is) => ({ do: 'change', litres: is.litres, salinity: 35, changeL: is.changeL, times: is.times, start: is.start, added: is.added ?? 0 }),
    says: (a) => [t.leftAfter(a.left.map((/** @type {number} */ x) => String(Number(x.toPrecision(3)))).slice(0, 12)), ...(a.steady > 0 ? [t.steady(String(Number(a.steady.toPrecision(3))))] : [])],
  },
  {
    id: 'evaporated', takes: { litres: 'litres', salinity: 'salinity', target: 'salinity' }, needed: ['litres', 'salinity', 'target'],
    asks: (is) => ({ do: 'topUp', litres: is.litres, salinity: is.salinity, target: is.target }), says: (a) => [all.change.add(litres(a.freshL))],
  },
  {
    id: 'mix', takes: { litres: 'litres', salinity: 'salinity', temperature: 'degrees', litres2: 'litres', salinity2: 'salinity', temperature2: 'degrees' }, needed: ['litres', 'salinity', 'litres2', 'salinity2'],
    asks: (is) => ({ do: 'mix', litres: is.litres, salinity: is.salinity, ...warm(is), with: { litres: is.litres2, salinity: is.salinity2, ...warm({ temperature: is.temperature2 }) } }),
    says: (a, is) => [t.mixed(litres(a.litres), s(a.salinity), is.temperature !== undefined && is.temperature2 !== undefined ? degrees(a.temperatureC) : '')],
  },
  {
    id: 'ammonia', takes: { ammonia: 'ammonia', pH: 'pH', temperature: 'degrees', salinity: 'salinity' }, needed: ['ammonia', 'pH', 'temperature', 'salinity'],
    asks: (is) => ({ do: 'ammonia', ammoniaMgNL: is.ammonia, pH: { value: is.pH, scale: 'unknown' }, temperatureC: is.temperature, salinity: is.salinity }),
    says: (a) => [all.reading.nh3(a.mgNH3L), a.word === 'under' ? '' : a.word === 'atOnce' ? all.reading.nh3Acute : all.reading.nh3High, all.reading.nh3Source(a.longFrom, a.atOnceFrom)].filter(Boolean),
  },
  {
    id: 'oxygen', takes: { temperature: 'degrees', salinity: 'salinity', oxygen: 'oxygen' }, needed: ['temperature', 'salinity'],
    asks: (is) => ({ do: 'oxygen', salinity: is.salinity, temperatureC: is.temperature, ...(is.oxygen === undefined ? {} : { oxygenMgL: is.oxygen }) }),
    says: (a) => [t.full(figure(a.fullMgL, 1)), ...(a.percent === null ? [] : [t.percent(figure(a.percent, 0))])],
  },
];
