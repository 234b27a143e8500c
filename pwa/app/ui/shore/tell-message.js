// The message to the one ashore. Children are counted and not named.

import { clock, dayAndClock, dayName, knowsZone, localDay } from '../parts/when.js';
import { written } from './spoken.js';
import { text } from '../../text/en.js';

/**
 * @param {import('./outing.js').Outing} outing
 * @param {import('../../data/shore-record.js').Shore} shore
 * @param {import('../../data/household.js').Household} household
 */
export function message(outing, shore, household) {
  const t = text.tell.message;
  const { planned, ashore, party } = outing;
  const time = (/** @type {string} */ instant) => clock(instant, shore.zone);
  const first = planned?.from ?? ashore?.dueBack;
  const adults = party.filter(({ as }) => as === 'adult');
  const own = shore.distanceKm !== null; // a position of its own and not that of the station
  const lines = [
    t.where(shore.name, first ? dayName(localDay(Date.parse(first), shore.zone), '') : ''),
    own && t.position(`${written(shore.lat, 'lat')}, ${written(shore.lon, 'lon')}`),
    party.length > 0 && t.who(adults.length, party.length - adults.length, adults.map(({ name }) => name).filter(Boolean)),
    knowsZone(shore.zone) ? t.zone(shore.zone) : text.plan.zoneUtc,
    planned ? t.window(time(planned.from), time(planned.to)) : t.noWindow,
    planned?.startBack && planned.offBy && t.limits(time(planned.startBack), time(planned.offBy)),
  ].filter(Boolean);
  /** @type {string[]} */
  const late = [];
  if (ashore) {
    const lateAt = new Date(Date.parse(ashore.dueBack) + household.graceMin * 60_000).toISOString();
    const sameDay = first && localDay(Date.parse(first), shore.zone) === localDay(Date.parse(lateAt), shore.zone);
    late.push(t.due(dayAndClock(ashore.dueBack, shore.zone), ashore.who), t.late(sameDay ? time(lateAt) : dayAndClock(lateAt, shore.zone), household.graceMin),
      ...(household.numbers.length > 0 ? household.numbers.map(({ what, number }) => t.number(what, number)) : [t.noNumbers]));
  } else late.push(t.noDue);
  if (shore.escape) late.push(t.escape(shore.escape));
  return [lines.join('\n'), late.join('\n'), `${t.nobody} ${text.chosen.message.astronomical}`].join('\n\n');
}
