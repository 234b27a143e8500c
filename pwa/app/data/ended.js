// Which finds the household has no more of, by what became of them in its tanks: dead or given
// away to the last part. A find counts as in possession until then. Where only some of a find
// has ended, or nobody has said, all of it goes on counting.

/** @typedef {import('./book.js').Rec} Rec */

/**
 * When the last of what came of a find ended, and how much that was by unit, by the find's id.
 * @typedef {{at: string, of: Record<string, number>}} End
 * @param {Rec[]} specimens
 * @param {Rec[]} events
 * @returns {Map<string, End>}
 */
export function endings(specimens, events) {
  /** @type {Map<string, string>} */
  const lastOf = new Map();
  for (const { fields, deleted } of events) {
    const end = deleted ? undefined : (fields.gone ?? whole(fields.died));
    if (!end?.of?.startsWith('specimen/')) continue;
    const id = end.of.slice('specimen/'.length);
    if (end.at > (lastOf.get(id) ?? '')) lastOf.set(id, end.at);
  }
  const living = new Map(specimens.filter(({ deleted }) => !deleted).map((rec) => [rec.id, rec.fields]));
  /** @type {Map<string, End | undefined>} undefined: some of it is still there */
  const ends = new Map();
  for (const [id, { amount }] of living) {
    const find = findOf(living, id);
    if (!find) continue;
    const [at, before] = [lastOf.get(id), ends.get(find)];
    if (!at || (ends.has(find) && !before)) ends.set(find, undefined);
    else {
      const of = { ...before?.of };
      if (amount) of[amount.unit] = (of[amount.unit] ?? 0) + amount.value;
      ends.set(find, { at: before && before.at > at ? before.at : at, of });
    }
  }
  return new Map(/** @type {[string, End][]} */ ([...ends].filter(([, end]) => end)));
}

/**
 * What of a find is gone, as its field says it: no more than what is known to have come of it
 * in the tanks; the rest may be in the kitchen, and goes on counting.
 * @param {Record<string, any>} find its fields
 * @param {End} end
 * @returns {{at: string, amount?: {value: number, unit: string}} | undefined}
 */
export function goneOf({ amount, putBack }, { at, of }) {
  if (!amount) return { at };
  const { value, unit } = amount;
  const back = !putBack ? 0 : !putBack.amount ? value : putBack.amount.unit === unit ? putBack.amount.value : 0;
  const ended = of[unit] ?? (Object.keys(of).length === 0 && unit === 'count' ? 1 : 0);
  if (ended <= 0) return undefined;
  return ended >= value - back - ROUNDED ? { at } : { at, amount: { value: ended, unit } };
}

/** Amounts that were shared out among jars are rounded. */
const ROUNDED = 0.01;

/** @param {any} died @returns the death of all that was there */
const whole = (died) => (died && !died.amount && (died.percent ?? 100) >= 100 ? died : undefined);

/**
 * The find that a specimen or the lot that it was parted from comes from.
 * @param {Map<string, any>} living
 * @param {string} id
 */
function findOf(living, id) {
  const seen = new Set();
  for (let at = id; at && !seen.has(at); at = living.get(at)?.lot) {
    if (living.get(at)?.find) return living.get(at).find;
    seen.add(at);
  }
  return undefined;
}
