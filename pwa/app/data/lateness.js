// What visits say of a shore's own tide: when the sea reached a marker rock, against when
// it was predicted to. Nothing here but arithmetic.

/** Fewer visits say nothing. */
export const LEAST_VISITS = 3;

/**
 * The median over visits of how much later (above zero) or earlier than predicted the sea
 * reached the marker rock; a visit with several sightings counts by its own median.
 * @param {{fields: Record<string, any>, deleted: boolean}[]} outings records
 * @param {string} shore id
 * @returns {{visits: number, lateMin: number} | undefined} undefined where there are too few
 */
export function lateness(outings, shore) {
  const visits = outings.filter(({ fields, deleted }) => !deleted && fields.shore === shore)
    .map(({ fields }) => Object.entries(fields)
      .filter(([name, value]) => name.startsWith('higher/') && typeof value?.lateMin === 'number').map(([, value]) => value.lateMin))
    .filter((seen) => seen.length > 0).map(median);
  return visits.length < LEAST_VISITS ? undefined : { visits: visits.length, lateMin: Math.round(median(visits)) };
}

/** @param {number[]} values at least one */
function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}
