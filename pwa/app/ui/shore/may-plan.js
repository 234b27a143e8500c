// Who may write outings, and whether what a plan stands on has been read from the phone.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ready } from '../../data/book.js';
import { me } from '../../data/door.js';
import { shoresRead } from '../../data/shores.js';
import { recalled } from '../plan/shore-state.js';

/** A phone that is alone, a keeper's, a collector's (internal/book). */
export const mayPlan = () => !me.value || ['keeper', 'collector'].includes(me.value.device.role);

/** Whether the outings, members and shores of the book have been read. */
export function useBook() {
  const read = useSignal(false);
  useEffect(() => {
    Promise.all([ready('outing'), ready('member'), ready('household'), shoresRead()]).then(() => (read.value = true));
  }, []);
  return read.value && recalled.value;
}
