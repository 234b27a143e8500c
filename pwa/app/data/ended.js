// Which finds the household has no more of, by what became of them in its tanks: dead or given
// away to the last part. A find counts as in possession until then. Where only some of a find
// has ended, or nobody has said, all of it goes on counting.

/** @typedef {import('./book.js').Rec} Rec */

/**
 * When the last of a find ended, by the find's id.
 * @param {Rec[]} specimens
 * @param {Rec[]} events
 * @returns {Map<string, string>}
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
  /** @type {Map<string, string | undefined>} undefined: some of it is still there */
  const of = new Map();
  for (const id of living.keys()) {
    const find = findOf(living, id);
    if (!find) continue;
    const [end, before] = [lastOf.get(id), of.get(find)];
    of.set(find, !end || (of.has(find) && !before) ? undefined : before && before > end ? before : end);
  }
  return new Map(/** @type {[string, string][]} */ ([...of].filter(([, at]) => at)));
}

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
