// The start of an outing: what holds from then on is frozen in its record.

import { select } from '../plan/shore-state.js';
import { wakeSound } from './warn.js';
import { windows } from './now-state.js';
import { alarmsAreSet, set, startOuting } from './outing-state.js';

/** The times of the window of now, as an outing keeps them; null where there is none. */
export function timesOfNow() {
  const w = windows.peek()?.now;
  return w ? { from: w.usableFrom, to: w.usableTo, startBack: w.startBack, offBy: w.offBy } : null;
}

/**
 * @param {{id: string, shore: string, planned: {startBack: string | null} | null}} outing
 */
export async function begin({ id, shore, planned }) {
  wakeSound();
  await select(shore);
  const times = planned?.startBack ? null : timesOfNow();
  if (times) await set(id, { planned: times });
  await alarmsAreSet(id);
  await startOuting(id);
}
