// What the core answers to what now stands in a form. Nothing is asked while nothing can be.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { call, notRunning } from '../../core.js';

/** @typedef {{answer?: any, wrong?: string, field?: string, failed?: boolean, of: string}} Heard failed: the core does not run */

/**
 * @param {string} name of the call
 * @param {object | undefined} request undefined asks nothing
 * @returns {{answer?: any, wrong?: string, field?: string, failed?: boolean, coming: boolean}} answer: the last one while the next is on its way
 */
export function useAnswer(name, request) {
  const of = request ? JSON.stringify(request) : '';
  const heard = useSignal(/** @type {Heard | undefined} */ (undefined));
  useEffect(() => {
    if (!request) return void (heard.value = undefined);
    let left = false;
    call(name, request).then(
      (answer) => left || (heard.value = { answer, of }),
      (error) => left || (heard.value = { wrong: error.message, field: error.field, failed: notRunning(error), of }));
    return () => void (left = true);
  }, [name, of]);
  const is = heard.value;
  return { ...is, coming: of !== '' && is?.of !== of };
}
