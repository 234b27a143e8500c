// What is on file for a shore on a day, with what was taken: for the tally of the party and for
// the slate.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { catalogue, state } from '../../core.js';
import { daysAsk, shoreAsk } from '../../data/rules-ask.js';
import { anyRules, counted, rulesRead, weigh } from '../../data/rules.js';
import { partyOf } from './verdict-ask.js';
import { around } from './verdict-state.js';

/**
 * The core's answer to 'onFile'; see internal/take/CALLS.md.
 * @typedef {{day: string, sets: any[]}} OnFile
 */

/**
 * @param {{shore: import('../../data/shore-record.js').Shore | undefined, outing?: import('./outing.js').Outing, at: string, people?: string[]}} asked
 *   at: an instant of the day; people: ids of who took something, of the party or not
 * @returns {OnFile | undefined} undefined: not reckoned
 */
export function useOnFile({ shore, outing, at, people = [] }) {
  const got = useSignal(/** @type {{asks: string, is: OnFile} | undefined} */ (undefined));
  const { members, visits, staleDays } = around(shore, outing);
  const party = partyOf(outing, members, people);
  const asks = shore && anyRules.value && JSON.stringify([
    { shore: shoreAsk(shore, visits), outing: outing?.id ?? '', at, party, purpose: outing?.purpose ?? 'home', ...daysAsk(staleDays) }, counted.value, catalogue.value,
  ]);
  useEffect(() => {
    if (!asks) return undefined;
    let gone = false;
    weigh('onFile', JSON.parse(asks)[0]).then((is) => !gone && (got.value = { asks, is }), () => !gone && (got.value = undefined));
    return () => {
      gone = true;
    };
  }, [asks, state.value]);
  if (!rulesRead.value) return undefined;
  if (!anyRules.value) return { day: '', sets: [] };
  return got.value?.asks === asks ? got.value?.is : undefined;
}
