// The days of a strip: what is shown of them, and how they read as words. Nothing here but
// reading.

/** @typedef {import('./picture-state.js').DayMark} DayMark */
/** @typedef {import('./picture-state.js').SystemState} SystemState */

/**
 * The days that a strip shows, the present one last.
 * @param {DayMark[]} days
 * @param {number} most
 * @param {string | null} [from] the first that concerns it, YYYY-MM-DD
 */
export function shownDays(days, most, from) {
  const its = from ? days.filter(({ day }) => day >= from) : days;
  return its.slice(-most);
}

/**
 * Days of one kind in a row.
 * @param {DayMark[]} days
 * @returns {{kind: DayMark['kind'], from: string, to: string, days: number}[]}
 */
export function runsOf(days) {
  /** @type {{kind: DayMark['kind'], from: string, to: string, days: number}[]} */
  const runs = [];
  for (const { day, kind } of days) {
    const last = runs[runs.length - 1];
    if (last && last.kind === kind) Object.assign(last, { to: day, days: last.days + 1 });
    else runs.push({ kind, from: day, to: day, days: 1 });
  }
  return runs;
}

/**
 * Why a system stands still, where it does: a sign that is open before a gap.
 * @param {Pick<SystemState, 'state' | 'open'>} state
 * @returns {'' | 'sign' | 'gap'}
 */
export const pausedBy = ({ state, open }) => (state !== 'paused' ? '' : open.length > 0 ? 'sign' : 'gap');
