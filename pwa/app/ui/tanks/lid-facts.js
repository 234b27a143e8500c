// What stands on the lid of a tank: who lives there, how it stands, what not to do.

import { UNSURE, called } from '../parts/kinds.js';
import { dayAndClock, dayName } from '../parts/when.js';
import { picture, nameOf, specimenOf, systemOf, tankOf, zone } from './picture-state.js';
import { rangeWords } from './tank-ranges.js';
import { litres } from './tank-units.js';
import { paper } from '../../text/en-tank-paper.js';

/** A picture older than this, while a newer one does not come, says nothing on paper. */
const OLD_MS = 5 * 60_000;

/**
 * @typedef {{ref: string, path: string, name: string, quarantine: boolean, reckoned: boolean, state: string, says: string[], residents: string[], facts: string[], rules: string[], printed: string}} LidFacts
 *   state is a word of text's states, or ''
 */

/**
 * @param {string} kind system or tank
 * @param {string} id
 * @param {number} nowMs
 * @returns {LidFacts | undefined} undefined for what is not on file
 */
export function lidOf(kind, id, nowMs) {
  const t = paper.lid;
  const ref = `${kind}/${id}`;
  const system = systemOf(ref);
  const name = nameOf(ref);
  if (!name && !system) return undefined;
  const now = picture.value && (!picture.value.stale || nowMs - picture.value.atMs < OLD_MS) ? picture.value : undefined;
  const state = now && system?.state;
  const tank = kind === 'tank' ? tankOf(id) : undefined;
  const residents = (state?.residents ?? []).flatMap((one) => {
    const found = specimenOf(one);
    if (!found || (tank && found.state?.tank !== id)) return [];
    const kindName = found.taxon === UNSURE ? '' : called(found.taxon);
    const title = nameOf(`specimen/${one}`);
    const where = !tank && (state?.tanks.length ?? 0) > 1 && found.state ? `, ${t.inTank(nameOf(`tank/${found.state.tank}`))}` : '';
    return [`${title}${kindName && kindName !== title ? `, ${kindName}` : ''}${where}`];
  });
  const quarantine = state ? state.state !== 'none' : (tank ?? {}).use === 'quarantine';
  return {
    ref, path: tank ? `/tanks/tank/${id}` : `/tanks/system/${ref}`, name: name || system?.name || '', quarantine, reckoned: Boolean(state), state: state?.state ?? '',
    says: state ? saysOf(state, now.day) : [t.notReckoned], residents, facts: factsOf(tank, system, ref),
    rules: quarantine || !state ? t.quarantineRules : t.displayRules, printed: t.printed(dayAndClock(new Date(now?.atMs ?? nowMs).toISOString(), zone.value)),
  };
}

/** @param {import('./picture-state.js').SystemState} state @param {string} today */
function saysOf(state, today) {
  const t = paper.lid;
  const list = [];
  if (state.state === 'waiting' || state.state === 'paused') list.push(t.quiet(state.quiet, state.wait), state.ends ? t.ends(dayName(state.ends, today)) : t.endsNot);
  if (state.state === 'done') list.push(t.quiet(state.quiet, state.wait));
  if (state.state === 'stopped') list.push(t.stopped);
  if (state.open.length > 0) list.push(t.openSigns(state.open.length));
  return list;
}

/**
 * @param {Record<string, any> | undefined} tank
 * @param {ReturnType<typeof systemOf>} system
 * @param {string} ref
 */
function factsOf(tank, system, ref) {
  const t = paper.lid;
  const list = [];
  if (tank?.volumeL) list.push(litres(tank.volumeL));
  const { keeps } = tank ?? {};
  if (keeps) list.push(t.keeps(rangeWords('salinity', [keeps.salinityLow, keeps.salinityHigh]), rangeWords('temperatureC', [keeps.lowC, keeps.highC])));
  const others = (system?.state?.tanks ?? []).filter((one) => `tank/${one}` !== ref).map((one) => nameOf(`tank/${one}`)).filter(Boolean);
  if (tank && others.length > 0) list.push(t.water(others));
  return list;
}
