// What was counted or paced, as the core is asked about it. Nothing here but data.

/** @param {string} [typed] */
function number(typed = '') {
  const tidy = typed.trim().replace(',', '.');
  return /^\d{1,6}(\.\d{0,3})?$/.test(tidy) ? Number(tidy) : undefined;
}

/**
 * @param {string} how counts, squares or paces
 * @param {Record<string, string>} w as typed
 * @returns {object | undefined} the request of the call 'share'; undefined where a number is missing
 */
export function shareAsk(how, w) {
  const n = Object.fromEntries(Object.entries(w).map(([name, typed]) => [name, number(typed)]));
  const given = (/** @type {string[]} */ ...all) => all.every((name) => n[name] !== undefined);
  const patch = { longPaces: n.long, widePaces: n.wide };
  if (how === 'counts') return given('counted', 'taking') ? { counted: n.counted, taking: n.taking } : undefined;
  if (how === 'paces') return given('long', 'wide', 'partLong', 'partWide') ? { patch, part: { longPaces: n.partLong, widePaces: n.partWide } } : undefined;
  const counts = (w.counts ?? '').split(/[\s,;]+/).filter(Boolean).map(number);
  if (!given('side', 'long', 'wide', 'pace', 'taking') || counts.length === 0 || counts.some((one) => one === undefined)) return undefined;
  return { square: { sideM: /** @type {number} */ (n.side) / 100, counts }, patch: { ...patch, paceM: /** @type {number} */ (n.pace) / 100 }, taking: n.taking };
}
