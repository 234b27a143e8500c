// The width of an element on the screen, for drawings that write text at its true size.

import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';

/**
 * @param {number} first what to draw with until it is measured
 * @returns {{ref: {current: any}, width: number}} give ref to the element
 */
export function useWidth(first) {
  const ref = useRef(/** @type {any} */ (null));
  const width = useSignal(first);
  useEffect(() => {
    const watch = new ResizeObserver(([entry]) => {
      const seen = Math.round(entry.contentRect.width);
      if (seen > 0) width.value = seen; // nothing while it is not shown, as in print
    });
    watch.observe(ref.current);
    return () => watch.disconnect();
  }, []);
  return { ref, width: width.value };
}
