// The rows of a recall in words, and the text that is sent.

import { dayAndClock, dayName, localDay } from '../parts/when.js';
import { nameOf, zone } from './picture-state.js';
import { fate } from '../../text/en-tank-fate.js';

/** @typedef {{specimens: {id: string, as: 'lot' | 'fragment' | 'mate', since: string, tank: string, gone?: string, to?: string, goneAt: string | null}[], systems: string[]}} Recall as internal/settle has it */
/** @typedef {{id: string, name: string, as: 'lot' | 'fragment' | 'mate', where: 'away' | 'here' | 'over', at: string, since: string}} Row */

/**
 * @param {Recall} recall
 * @returns {Row[]}
 */
export function recallRows({ specimens }) {
  const t = fate.recall;
  const day = (/** @type {string | null} */ at) => (at && !at.startsWith('0001-') ? dayName(localDay(Date.parse(at), zone.value), '') : '');
  return specimens.map(({ id, as, since, tank, gone, to, goneAt }) => ({
    id, as, name: nameOf(`specimen/${id}`) || id,
    where: !gone ? 'here' : gone === 'given away' ? 'away' : 'over',
    at: !gone ? (tank ? t.inTank(nameOf(`tank/${tank}`)) : t.nowhere) : gone === 'given away' ? (to ? t.withThem(to) : t.givenUnknown) : t.goneHow[/** @type {keyof typeof t.goneHow} */ (gone)] ?? gone,
    since: day(gone ? goneAt : since),
  }));
}

/**
 * @param {{name: string, lot: string, rows: Row[], systems: string[], nowMs: number}} of
 */
export function recallText({ name, lot, rows, systems, nowMs }) {
  const t = fate.recall;
  const lines = rows.map((row) => `- ${row.name}: ${t.as[row.as]}, ${row.at}${row.since && `, ${row.since}`}`);
  return [t.textHead(name, lot, dayAndClock(new Date(nowMs).toISOString(), zone.value)), ...lines, ...(systems.length > 0 ? [`${t.systems}: ${systems.join(', ')}`] : []), t.textFoot].join('\n');
}
