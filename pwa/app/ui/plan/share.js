// Telling friends: the message.

import { clock, dayName, knowsZone, metres, nearestClock } from '../parts/when.js';
import { text } from '../../text/en.js';

/** @typedef {import('../../data/chosen.js').Chosen} Chosen */

/**
 * The message about chosen windows.
 * @param {Chosen[]} chosen
 */
export function message(chosen) {
  const t = text.chosen.message;
  const paragraphs = [chosen.length === 1 ? t.askOne : t.ask];
  let before = '';
  for (const one of chosen) {
    const at = (/** @type {string} */ instant) => clock(instant, one.zone);
    if (one.shore !== before) {
      paragraphs.push(`${t.shore(one.name)}\n${knowsZone(one.zone) ? t.zone(one.zone) : t.zoneUtc}`);
      before = one.shore;
    }
    paragraphs.push([
      dayName(one.day, ''),
      (one.dark ? t.usableDark : t.usable)(at(one.usableFrom), at(one.usableTo)),
      t.low(metres(one.lowHeight), nearestClock(one.lowTime, one.zone)),
      t.back(at(one.startBack), at(one.offBy)),
    ].join('\n'));
  }
  return [...paragraphs, t.astronomical].join('\n\n');
}
