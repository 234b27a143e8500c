// What was typed into the form of a reading: what it says, what is refused and why, and what
// must be asked first. Nothing here is written.

import { BOUNDS, isGravity, STATED } from './reading-kinds.js';
import { asCelsius, celsius, fahrenheit, figure, imperial, typedNumber } from './tank-units.js';
import { water as t } from '../../text/en-tank-water.js';

/** @typedef {Record<string, string>} Typed what stands in the fields, by their names */
/** @typedef {{says: string, does: string, set: Typed}} Ask a question, and what "yes" puts into the fields */
/** @typedef {{fields: Record<string, any>, wrong: Record<string, string>, ask: Record<string, Ask>}} Said */

/**
 * A temperature. One in the other unit is asked about and not refused blindly.
 * @param {string} name of the field
 * @param {string} typed
 * @param {Said} out
 * @returns {number | undefined} °C
 */
export function temperatureOf(name, typed, out) {
  const n = typedNumber(typed);
  if (n === undefined) return undefined;
  if (Number.isNaN(n)) return void (out.wrong[name] = t.wrong.number);
  const c = asCelsius(n);
  const [least, most] = BOUNDS.temperatureC;
  if (c >= least && c <= most) return c;
  const other = imperial() ? n : celsius(n); // as if it were in the other unit, in °C
  if (other >= least && other <= most) {
    const set = imperial() ? figure(fahrenheit(n), 1) : figure(celsius(n), 1);
    out.ask[name] = { ...(imperial() ? t.ask.celsius(n, set) : t.ask.fahrenheit(n, set)), set: { [name]: set.replace('−', '-') } };
  } else {
    const bound = (/** @type {number} */ of) => (imperial() ? `${figure(fahrenheit(of), 0)} °F` : `${figure(of, 0)} °C`);
    out.wrong[name] = t.wrong.temperature(bound(least), bound(most));
  }
}

/**
 * A salinity with its instrument, scale and sample temperature, as the book has it.
 * @param {string} at before the names of its fields
 * @param {Typed} typed
 * @param {Said} out
 * @returns {{value: number, instrument: string, scale: string, sampleC: number | null} | undefined}
 */
export function salinityOf(at, typed, out) {
  const [name, sample] = [at + 'salinity', at + 'sampleC'];
  const n = typedNumber(typed[name]);
  if (n === undefined) return undefined;
  if (Number.isNaN(n)) return void (out.wrong[name] = t.wrong.number);
  const [instrument, scale] = [typed[at + 'instrument'], typed[at + 'scale']];
  const set = (/** @type {string} */ to) => ({ [at + 'scale']: to });
  if (isGravity(scale)) {
    if (n >= 2 && n <= 42) return void (out.ask[name] = { ...t.ask.notGravity(n), set: set('ppt') });
    if (n >= 1000 && n < 1045) return void (out.ask[name] = { ...t.ask.thousand(n, (n / 1000).toFixed(4)), set: { [name]: String(n / 1000) } });
    if (n < 0.99 || n > 1.045) return void (out.wrong[name] = t.wrong.gravity);
  } else if (scale === 'mS/cm') {
    if (n < 0 || n > 100) return void (out.wrong[name] = t.wrong.conductivity);
  } else {
    if (n > 1 && n < 1.045) return void (out.ask[name] = { ...t.ask.gravity(n), set: set('SG unknown') });
    if (n < 0 || n > 42) return void (out.wrong[name] = t.wrong.salinity);
  }
  const sampleC = temperatureOf(sample, typed[sample], out);
  if (scale === 'mS/cm' && sampleC === undefined && !out.ask[sample] && !out.wrong[sample]) out.wrong[sample] = t.wrong.sample;
  return { value: n, instrument, scale, sampleC: sampleC ?? null };
}

/**
 * A plain figure within its bounds, with what the kit states it as.
 * @param {Exclude<import('./reading-kinds.js').Kind, 'salinity' | 'temperatureC'>} kind
 * @param {string} at before the name of its field
 * @param {Typed} typed
 * @param {Said} out
 * @returns {number | undefined} as the book keeps it
 */
export function figureOf(kind, at, typed, out) {
  const name = at + kind;
  const n = typedNumber(typed[name]);
  if (n === undefined) return undefined;
  if (Number.isNaN(n)) return void (out.wrong[name] = t.wrong.number);
  const [least, most] = BOUNDS[kind];
  if (n < least || n > most) return void (out.wrong[name] = kind === 'pH' ? t.wrong.pH : n < 0 ? t.wrong.negative : t.wrong.most(most));
  const share = STATED[kind]?.[typed[`${at}${kind}.as`]] ?? 1;
  return share === 1 ? n : Number((n * share).toPrecision(6));
}

/**
 * All that a reading may hold.
 * @param {Typed} typed
 * @returns {Said} fields as the book has them, without sample and note
 */
export function readingOf(typed) {
  /** @type {Said} */
  const out = { fields: {}, wrong: {}, ask: {} };
  const put = (/** @type {string} */ field, /** @type {any} */ value) => value !== undefined && (out.fields[field] = value);
  put('salinity', salinityOf('', typed, out));
  put('temperatureC', temperatureOf('temperatureC', typed.temperatureC, out));
  const pH = figureOf('pH', '', typed, out);
  put('pH', pH === undefined ? undefined : { value: pH, scale: typed['pH.scale'] });
  for (const kind of /** @type {const} */ (['ammoniaMgNL', 'nitriteMgNL', 'nitrateMgNL', 'phosphateMgL', 'oxygenMgL'])) put(kind, figureOf(kind, '', typed, out));
  const alkalinity = figureOf('alkalinity', '', typed, out);
  put('alkalinity', alkalinity === undefined ? undefined : { value: alkalinity, unit: typed['alkalinity.as'] });
  return out;
}
