// Go or no go: what is asked before an outing, and what the answers come to. Nothing here but
// reading. What is not answered stays open and is never shown as fine.

/** @typedef {import('./outing.js').Outing} Outing */
/** @typedef {import('./outing.js').Person} Person */

/**
 * fine; no: speaks against going; open: not answered, or not known; stale: was fine, too long
 * ago.
 * @typedef {'fine' | 'no' | 'open' | 'stale'} State
 */

/**
 * why is the reason as a code of text.go.why, with its values.
 * @typedef {{word: string, state: State, atMs?: number, value?: number, words?: string, why?: [string, ...any[]]}} Check
 */

/** Weather answers are good for so long, hours. Common practice: look again on the morning itself. */
export const WEATHER_HOURS = 12;
/** A clock may be this far ahead of another phone's before its answers count for nothing, minutes. */
const AHEAD_MIN = 5;

/** What a person looks up and answers, and goes stale. */
export const WEATHER = /** @type {const} */ (['swell', 'wind', 'storms', 'rain', 'temperature']);

/**
 * What the light does over the planned time: undefined where it is not known.
 * @typedef {{dark: boolean, sunset?: string, sunrise?: string} | undefined} Light
 */

/**
 * Whether any of a span lies outside the lit stretches.
 * @param {{from: string, to: string}} span
 * @param {{from: string, to: string}[]} lit
 */
export function isDarkIn({ from, to }, lit) {
  const [start, end] = [Date.parse(from), Date.parse(to)];
  return !lit.some((stretch) => Date.parse(stretch.from) <= start && Date.parse(stretch.to) >= end);
}

/**
 * What is wrong with a party, as codes of text.go.party with their values.
 * @param {Person[]} party
 * @returns {{state: State, why: [string, ...any[]]}[]}
 */
export function partyFaults(party) {
  /** @type {{state: State, why: [string, ...any[]]}[]} */
  const faults = [];
  const children = party.filter(({ as }) => as === 'child');
  const adults = party.length - children.length;
  if (party.length === 0) faults.push({ state: 'open', why: ['nobody'] });
  if (party.length === 1) faults.push({ state: 'open', why: ['alone'] });
  if (children.length > 0 && adults === 0) faults.push({ state: 'no', why: ['noAdult'] });
  for (const child of children) {
    const buddy = party.find(({ id }) => id === child.with);
    if (!child.number) faults.push({ state: 'no', why: ['noNumber', child.name] });
    else if (children.some((other) => other !== child && other.number === child.number && other.id > child.id)) faults.push({ state: 'no', why: ['sameNumber', child.number] });
    if (!buddy || buddy === child) faults.push({ state: 'no', why: ['noBuddy', child.name] });
  }
  if (children.length > 0 && !party.some(({ as, does }) => as === 'adult' && does === 'watches')) faults.push({ state: 'open', why: ['noWatcher'] });
  return faults;
}

/**
 * Every check in the order of the page.
 * @param {Outing} outing
 * @param {{swellLimit: number | null, night: 'allowed' | 'forbidden' | null}} shore
 * @param {{childrenAtNight: boolean | undefined}} household
 * @param {Light} light
 * @param {number} nowMs
 * @returns {Check[]}
 */
export function checksOf(outing, shore, household, light, nowMs) {
  const asked = (/** @type {string} */ word, /** @type {number} */ hours) => answered(outing.checks[word], word, hours, nowMs);
  /** @type {Check[]} */
  const list = WEATHER.map((word) => asked(word, WEATHER_HOURS));
  const swell = list[0];
  // The limit may be set after the answer; whoever said "fine" then did not know it.
  if (swell.value !== undefined && shore.swellLimit !== null && swell.value > shore.swellLimit) Object.assign(swell, { state: 'no', why: ['overSwell', swell.value, shore.swellLimit] });
  list.push(asked('animals', Infinity));

  const unpacked = [...outing.gear, ...outing.containers].filter(({ packed }) => !packed).map(({ what }) => what);
  list.push(outing.gear.length === 0 ? { word: 'kit', state: 'open', why: ['noKit'] }
    : unpacked.length > 0 ? { word: 'kit', state: 'open', why: ['unpacked', unpacked] } : { word: 'kit', state: 'fine', why: ['packed'] });

  const faults = partyFaults(outing.party);
  if (faults.length === 0) list.push({ word: 'party', state: 'fine', why: ['partyFine', outing.party.length] });
  for (const { state, why } of faults) list.push({ word: 'party', state, why });

  list.push(!outing.ashore?.who ? { word: 'ashore', state: outing.party.length === 1 ? 'no' : 'open', why: [outing.party.length === 1 ? 'aloneUnknown' : 'nobodyAshore'] }
    : Date.parse(outing.ashore.dueBack) <= nowMs ? { word: 'ashore', state: 'no', why: ['dueBackPassed'] }
    : { word: 'ashore', state: 'fine', why: ['ashoreFine', outing.ashore.who] });

  if (!light) list.push({ word: 'light', state: 'open', why: ['lightUnknown'] });
  else if (!light.dark) list.push({ word: 'light', state: 'fine', why: ['lit'] });
  else {
    list.push({ word: 'light', state: shore.night === 'allowed' ? 'fine' : 'no', why: [shore.night === 'allowed' ? 'nightAllowed' : shore.night === 'forbidden' ? 'nightForbidden' : 'nightUnknown'] });
    if (outing.party.some(({ as }) => as === 'child')) {
      const may = household.childrenAtNight;
      list.push({ word: 'nightChildren', state: may === true ? 'fine' : may === false ? 'no' : 'open', why: [may === true ? 'childrenMay' : may === false ? 'childrenMayNot' : 'childrenUnsaid'] });
    }
    list.push(asked('lamps', WEATHER_HOURS));
  }
  if (!outing.planned) list.push({ word: 'window', state: 'open', why: ['noWindow'] });
  else if (Date.parse(outing.planned.offBy ?? outing.planned.to) <= nowMs) list.push({ word: 'window', state: 'no', why: ['windowPassed'] });
  return list;
}

/**
 * @param {{at: string, fine: boolean | null, value?: number, words?: string} | undefined} answer
 * @param {string} word
 * @param {number} hours after which a good answer says nothing any more; a bad one holds until it is looked at again
 * @param {number} nowMs
 * @returns {Check}
 */
function answered(answer, word, hours, nowMs) {
  if (!answer || answer.fine === null) return { word, state: 'open', ...(answer?.value === undefined ? {} : { value: answer.value }) };
  const atMs = Date.parse(answer.at);
  const age = nowMs - atMs;
  const old = age > hours * 3_600_000 || age < -AHEAD_MIN * 60_000;
  return { word, state: !answer.fine ? 'no' : old ? 'stale' : 'fine', atMs, value: answer.value, words: answer.words };
}

/**
 * What the checks come to. There is no better word than that nothing speaks against it.
 * @param {Check[]} checks
 * @returns {{word: 'no' | 'open' | 'nothing', against: Check[], open: Check[]}} open: stale ones too
 */
export function verdictOf(checks) {
  const against = checks.filter(({ state }) => state === 'no');
  const open = checks.filter(({ state }) => state === 'open' || state === 'stale');
  return { word: against.length > 0 ? 'no' : open.length > 0 ? 'open' : 'nothing', against, open };
}
