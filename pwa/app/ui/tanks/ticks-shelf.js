// Which tanks share water, by who joined and left. Nothing here but reading.

/**
 * @param {string[]} tanks ids in shelf order
 * @param {string[]} systems ids of those on file
 * @param {Record<string, any>[]} events
 * @returns {string[][]} of each system what it and its tanks are called in events, itself first; a tank that stands alone is its own
 */
export function systemsOf(tanks, systems, events) {
  /**
   * Of each tank, where it stands since when.
   * @type {Map<string, {at: string, system: string}>}
   */
  const stands = new Map();
  for (const event of events) {
    const { of, at, system } = event.joined ?? event.left ?? {};
    const tank = of?.startsWith('tank/') ? of.slice('tank/'.length) : '';
    const was = stands.get(tank);
    // At one instant a tank leaves before it joins, as in the core.
    if (tank && (!was || at > was.at || (at === was.at && event.joined))) stands.set(tank, { at, system: event.joined ? system : '' });
  }
  /** @type {Map<string, string[]>} */
  const shelf = new Map();
  for (const id of tanks) {
    const system = stands.get(id)?.system ?? '';
    const key = system && systems.includes(system) ? `system/${system}` : `tank/${id}`;
    shelf.set(key, [...(shelf.get(key) ?? [key]), ...(key === `tank/${id}` ? [] : [`tank/${id}`])]);
  }
  return [...shelf.values()];
}
