// What was typed into the form of a tank: what it says, and what is wrong with it.

import { BOUNDS } from './reading-kinds.js';
import { temperatureOf } from './reading-typed.js';
import { asLitres, inDegrees, inVolume, typedNumber } from './tank-units.js';
import { water as all } from '../../text/en-tank-water.js';

const t = all.wrong;

/** What else may be held between two bounds. */
export const TARGETS = /** @type {const} */ (['pH', 'ammoniaMgNL', 'nitriteMgNL', 'nitrateMgNL', 'phosphateMgL', 'alkalinity', 'oxygenMgL']);
/** What comes round, in days. */
export const RHYTHMS = /** @type {const} */ (['waterChangeDays', 'topUpDays', 'trimDays', 'readDays']);

/** As internal/book has them. */
const MOST = { name: 80, note: 2000, fillNote: 300, litres: 1_000_000, perCm: 10_000 };

/**
 * The form of a tank as it stands on file; for a new one, the next place on the shelf.
 * @param {Record<string, any> | undefined} tank
 * @param {Record<string, any>[]} shelf the tanks on file
 * @returns {Record<string, string>}
 */
export function startOf(tank, shelf) {
  const is = tank ?? {};
  const s = (/** @type {any} */ x) => (x === undefined || x === null ? '' : String(x));
  const c = (/** @type {any} */ x) => (x === undefined || x === null ? '' : String(Number(inDegrees(x).toFixed(1))));
  const places = shelf.map(({ order }) => order).filter(Number.isFinite);
  /** @type {Record<string, string>} */
  const start = {
    name: s(is.name), use: is.use ?? 'quarantine', volume: is.volumeL ? inVolume(is.volumeL) : '', order: tank ? s(is.order) : places.length ? String(Math.floor(Math.max(...places)) + 1) : '',
    salinityLow: s(is.keeps?.salinityLow), salinityHigh: s(is.keeps?.salinityHigh), lowC: c(is.keeps?.lowC), highC: c(is.keeps?.highC),
    fill: is.fillLine ? 'yes' : '', perCm: is.fillLine?.litresPerCm ? inVolume(is.fillLine.litresPerCm) : '', fillNote: s(is.fillLine?.note), 'alkalinity.unit': is.targets?.alkalinity?.unit ?? 'dKH', note: s(is.note),
  };
  for (const kind of TARGETS) [start[`${kind}.low`], start[`${kind}.high`]] = [s(is.targets?.[kind]?.low), s(is.targets?.[kind]?.high)];
  for (const what of RHYTHMS) start[what] = s(is.every?.[what]);
  return start;
}

/**
 * @param {Record<string, string>} typed
 * @returns {import('./reading-typed.js').Said} fields as the book has them; null where there is nothing
 */
export function tankTyped(typed) {
  /** @type {import('./reading-typed.js').Said} */
  const out = { fields: {}, wrong: {}, ask: {} };
  const { fields, wrong } = out;
  const long = (/** @type {string} */ name, /** @type {number} */ most) => {
    if (Array.from(typed[name].trim()).length > most) wrong[name] = t.long(most);
    return typed[name].trim();
  };
  /** @param {string} name @param {number} least @param {number} most @param {string} says */
  const number = (name, least, most, says, whole = false) => {
    const n = typedNumber(typed[name]);
    if (n === undefined) return undefined;
    if (!(n >= least && n <= most) || (whole && !Number.isInteger(n))) return void (wrong[name] = Number.isNaN(n) ? t.number : says);
    return n;
  };
  const pair = (/** @type {string} */ low, /** @type {string} */ high, /** @type {(name: string) => number | undefined} */ of) => {
    const [a, b] = [of(low), of(high)];
    const [bad, asked] = [low in wrong || high in wrong, low in out.ask || high in out.ask];
    if (bad || asked || (a === undefined && b === undefined)) return undefined;
    if (a === undefined || b === undefined) return void (wrong[a === undefined ? low : high] = t.both);
    if (a > b) return void (wrong[high] = t.order);
    return [a, b];
  };

  fields.name = long('name', MOST.name);
  if (!fields.name) wrong.name = t.name;
  fields.use = typed.use;
  const most = inVolume(MOST.litres);
  const volume = number('volume', 1e-6, asLitresBack(MOST.litres), t.litres(most));
  if (volume !== undefined) fields.volumeL = asLitres(volume);
  fields.order = number('order', 1, 999, t.place, true) ?? null;

  const salinity = pair('salinityLow', 'salinityHigh', (name) => number(name, 0, 42, t.salinity));
  const temperature = pair('lowC', 'highC', (name) => temperatureOf(name, typed[name], out));
  fields.keeps = salinity && temperature ? { salinityLow: salinity[0], salinityHigh: salinity[1], lowC: temperature[0], highC: temperature[1] } : null;
  const open = !['salinityLow', 'salinityHigh', 'lowC', 'highC'].some((name) => name in wrong || name in out.ask);
  if (open && salinity && !temperature) wrong.lowC = t.keepsBoth;
  if (open && temperature && !salinity) wrong.salinityLow = t.keepsBoth;

  fields.fillLine = null;
  if (typed.fill === 'yes') {
    const perCm = number('perCm', 1e-6, asLitresBack(MOST.perCm), t.within(0.001, inVolume(MOST.perCm)));
    const note = long('fillNote', MOST.fillNote);
    fields.fillLine = { ...(perCm === undefined ? {} : { litresPerCm: asLitres(perCm) }), ...(note ? { note } : {}) };
  }
  /** @type {Record<string, any>} */
  const targets = {};
  for (const kind of TARGETS) {
    const [least, high] = BOUNDS[kind];
    const found = pair(`${kind}.low`, `${kind}.high`, (name) => number(name, least, high, t.within(least, high)));
    if (found) targets[kind] = { low: found[0], high: found[1], ...(kind === 'alkalinity' ? { unit: typed['alkalinity.unit'] } : {}) };
  }
  fields.targets = Object.keys(targets).length ? targets : null;
  const every = Object.fromEntries(RHYTHMS.map((what) => [what, number(what, 1, 365, t.days, true)]).filter(([, days]) => days !== undefined));
  fields.every = Object.keys(every).length ? every : null;
  fields.note = long('note', MOST.note);
  return out;
}

/**
 * Litres in the unit of this phone.
 * @param {number} l
 */
const asLitresBack = (l) => l / asLitres(1);
