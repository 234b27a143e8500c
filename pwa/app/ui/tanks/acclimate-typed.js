// What was typed for an acclimation: what the core is asked, what is wrong, what to ask first.

import { figureOf, salinityOf, temperatureOf } from './reading-typed.js';
import { asLitres, inVolume, typedNumber } from './tank-units.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.wrong;

/** Litres and hours at most, as the core has them. */
const MOST_L = 100_000;
const MOST_HOURS = 1000;

/** @typedef {{salinity: string, instrument: string, scale: string, sampleC: string, temperatureC: string, pH: string}} Side */

/**
 * @param {Record<string, string>} typed
 * @returns {{request?: Record<string, any>, wrong: Record<string, string>, ask: Record<string, import('./reading-typed.js').Ask>, missing: string[]}}
 *   request: undefined while something is missing or wrong; without group, jars and drain
 */
export function acclimationTyped(typed) {
  /** @type {import('./reading-typed.js').Said} */
  const out = { fields: {}, wrong: {}, ask: {} };
  /** @param {string} name @param {number} least @param {number} most @param {string} says */
  const number = (name, least, most, says) => {
    const n = typedNumber(typed[name]);
    if (n === undefined) return undefined;
    if (!(n >= least && n <= most)) return void (out.wrong[name] = Number.isNaN(n) ? t.number : says);
    return n;
  };
  const volume = (/** @type {string} */ name) => {
    const n = number(name, 1e-6, MOST_L / asLitres(1), t.litres(`${inVolume(MOST_L)}`));
    return n === undefined ? undefined : asLitres(n);
  };
  const side = (/** @type {string} */ at) => {
    const pH = figureOf('pH', at, typed, out);
    return {
      volumeL: volume(`${at}volume`), salinity: salinityOf(at, typed, out), temperatureC: temperatureOf(`${at}temperatureC`, typed[`${at}temperatureC`], out),
      ...(pH === undefined ? {} : { pH: { value: pH, scale: typed['pH.scale'] } }),
    };
  };
  const [bag, tank] = [side('bag.'), side('tank.')];
  const ammonia = figureOf('ammoniaMgNL', 'bag.', typed, out);
  const containerL = volume('containerL');
  const hours = number('hours', 0, MOST_HOURS, t.within(0, MOST_HOURS));
  const drops = number('drops', 20, 1000, t.within(20, 1000));
  if (drops !== undefined && !Number.isInteger(drops)) out.wrong.drops = t.whole;
  if (containerL !== undefined && bag.volumeL !== undefined && containerL < bag.volumeL && !out.wrong.containerL) out.wrong.containerL = t.container;
  const missing = [['bag.volume', bag.volumeL], ['bag.salinity', bag.salinity], ['bag.temperatureC', bag.temperatureC], ['tank.volume', tank.volumeL], ['tank.salinity', tank.salinity], ['tank.temperatureC', tank.temperatureC]]
    .flatMap(([name, is]) => (is === undefined && !out.wrong[/** @type {string} */ (name)] && !out.ask[/** @type {string} */ (name)] ? [/** @type {string} */ (name)] : []));
  const open = missing.length === 0 && Object.keys(out.wrong).length === 0 && Object.keys(out.ask).length === 0;
  return {
    wrong: out.wrong, ask: out.ask, missing,
    request: !open ? undefined : {
      bag: { ...bag, ...(ammonia === undefined ? {} : { ammoniaMgNL: ammonia }) }, tank, ...(containerL === undefined ? {} : { containerL }), ...(hours === undefined ? {} : { hoursSealed: hours }),
      ...(drops === undefined ? {} : { dropsIn5mL: drops }),
    },
  };
}

/**
 * The handling group that bears least of those in a bag, and the slowest rates of any.
 * @param {string[]} groups
 * @param {{groups: Record<string, any>, unsure: any}} numbers of the core's call "handling"
 * @param {Record<string, any>} own the household's own numbers by group
 * @returns {{group: string, salinityHour?: number, cHour?: number}} rates only where they are not the group's
 */
export function tenderest(groups, numbers, own) {
  const of = (/** @type {string} */ group) => {
    const is = numbers.groups[group] ?? numbers.unsure;
    return { group, salinity: own[group]?.salinityPerHour ?? is.salinityPerHour.is, c: own[group]?.cPerHour ?? is.cPerHour.is, dripMin: is.dripMin.is, usual: is };
  };
  const all = (groups.length ? groups : ['']).map(of).sort((a, b) => a.salinity - b.salinity || a.c - b.c || b.dripMin - a.dripMin || (a.group < b.group ? -1 : 1));
  const [{ group, salinity, usual }] = all;
  const c = Math.min(...all.map((one) => one.c));
  return { group, ...(salinity === usual.salinityPerHour.is ? {} : { salinityHour: salinity }), ...(c === usual.cPerHour.is ? {} : { cHour: c }) };
}

/** What stands in the form of each kind that is read of a tank. */
const READ = { salinity: ['tank.salinity', 'tank.scale', 'tank.instrument', 'tank.sampleC'], temperatureC: ['tank.temperatureC'], pH: ['tank.pH', 'pH.scale'] };

/**
 * @param {Record<string, string>} was as the form started
 * @param {Record<string, string>} now
 * @param {Record<string, any>} tank what was typed of it, as the book has it
 * @returns {Record<string, any>} those of its fields that were typed anew
 */
export const newlyRead = (was, now, tank) => Object.fromEntries(Object.entries(READ).filter(([kind, names]) => tank[kind] !== undefined && names.some((name) => was[name] !== now[name])).map(([kind]) => [kind, tank[kind]]));
