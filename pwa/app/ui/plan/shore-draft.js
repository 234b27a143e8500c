// A shore's form while it is filled: kept at every stroke, so that a reload loses nothing.

import { effect, signal } from '@preact/signals';
import { dropDraft, keepDraft, keptDraft } from '../../data/drafts.js';
import { aboutStation } from './station-state.js';
import { empty, write } from './shore-fields.js';

/** @typedef {import('../../data/shore-record.js').Shore} Shore */

/**
 * @typedef {object} Draft
 * @property {Record<import('./shore-fields.js').Field, import('@preact/signals').Signal<string>>} fields
 * @property {import('@preact/signals').Signal<any>} station the core's answer to 'station', or what the
 *   shore has kept of it until that is there (stub: true)
 * @property {import('@preact/signals').Signal<boolean>} found whether an older draft was found
 * @property {() => import('./shore-fields.js').Written} written
 * @property {(dropIt: boolean) => Promise<void>} end stops keeping it; dropIt: it is saved or given up
 */

/**
 * Opens the draft of a shore.
 * @param {Shore} [shore] none for a new one
 * @returns {Draft}
 */
export function openDraft(shore) {
  const key = shore ? `shore:${shore.id}` : 'shore:new';
  const start = shore ? write(shore) : empty;
  const fields = /** @type {Draft['fields']} */ (Object.fromEntries(Object.entries(start).map(([name, value]) => [name, signal(value)])));
  const station = signal(/** @type {any} */ (shore && stubOf(shore)));
  const found = signal(false);
  const written = () => /** @type {import('./shore-fields.js').Written} */ (Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, field.value])));
  let stop = () => {};
  let ended = false;

  keptDraft(key).then((kept) => {
    if (ended) return;
    if (kept) {
      // What was typed while the database was slow to open stays.
      for (const [name, field] of Object.entries(fields)) {
        const untouched = field.peek() === start[/** @type {keyof typeof start} */ (name)];
        if (untouched && typeof kept.fields[name] === 'string') field.value = kept.fields[name];
      }
      const picked = station.peek() && !station.peek().stub;
      if (kept.station && !picked) station.value = kept.station;
      found.value = true;
    }
    stop = effect(() => {
      const now = { fields: written(), station: station.value?.stub ? undefined : station.value };
      const touched = JSON.stringify(now.fields) !== JSON.stringify(start) || station.value?.id !== shore?.station;
      if (touched) keepDraft(key, now);
      else dropDraft(key);
    });
  });
  // An older shore brings only what it has kept of its station; the core knows the rest.
  if (shore) {
    aboutStation(shore.station, null).then((answer) => {
      if (station.peek()?.stub) station.value = answer;
    }, () => {}); // without it the form works on what the shore has kept
  }

  return {
    fields, station, found, written,
    end: async (dropIt) => {
      ended = true;
      stop();
      if (dropIt) await dropDraft(key);
    },
  };
}

/** @param {Shore} shore */
function stubOf({ station, stationName, place, source, datum, release, zone, lat, lon }) {
  return { id: station, name: stationName, place, source, datum, release, zone, lat, lon, stub: true };
}
