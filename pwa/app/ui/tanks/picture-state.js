// How everything in the tanks stands, for every page of Tanks: what is on file on this phone,
// and the core's picture of it, reckoned again whenever that changes and each minute that
// somebody looks. Nothing is decided here: until the core has answered, nothing is known.

import { computed, effect, signal } from '@preact/signals';
import { state as core } from '../../core.js';
import { ready, records, write } from '../../data/book.js';
import { me, meRead } from '../../data/door.js';
import { householdFields } from '../../data/household.js';
import { uuidv7 } from '../../data/ids.js';
import { CLOCK_OFF_MS, clockOffMs, syncState } from '../../data/sync.js';
import { UNSURE, called } from '../parts/kinds.js';
import { now } from '../parts/now.js';
import { place } from '../route.js';
import { findOf } from '../shore/find.js';
import { instant, owner } from '../shore/outing-state.js';
import { LISTS, askClock, whole } from './picture-held.js';

/** @typedef {import('../../data/book.js').Rec} Rec */
/** @typedef {{why: string, event?: string}} Cause */
/** @typedef {'quiet' | 'unwatched' | 'paused' | 'restarted' | 'stopped' | 'done' | 'today'} Kind */
/** @typedef {{day: string, kind: Kind, why?: Cause[]}} DayMark day: YYYY-MM-DD */
/** @typedef {{id: string, grade: string, at: string, of: string}} OpenSign id: of the event, or "kind:" and a specimen's */
/**
 * A water system, as internal/settle has it: key is "system/…" or "tank/…", days have the present one last.
 * @typedef {{key: string, state: 'waiting' | 'paused' | 'stopped' | 'done' | 'empty' | 'none', tanks: string[], residents: string[], quiet: number,
 *   wait: number, own: boolean, longest?: string, cold: boolean, ends: string | null, since: Cause | null, looked: string | null, days: DayMark[],
 *   open: OpenSign[], unconfirmed: string[], future: string[], questions: {system: string, specimen?: string, at: string, missing: string[]}[]}} SystemState
 */
/**
 * @typedef {{id: string, tank: string, system: string | null, arrived: string | null, gone?: string, goneTo?: string, may: boolean, missing: string[],
 *   overruled?: string, cleared: string | null, origin?: string, left?: number, dips: number, dipsNeeded: number, searches?: string[], searchesNeeded: number, handOn: string[], part?: string}} SpecimenState
 */
/** @typedef {{what: string, system: string, specimen?: string, day: string, overdue: boolean, days?: string[], events?: string[]}} Due */
/**
 * atMs is when it was reckoned; stale says that a newer one is on its way, or does not come.
 * @typedef {{day: string, systems: SystemState[], specimens: SpecimenState[], notes: {event: string, why: string}[], unread: string[], due: Due[], atMs: number, stale: boolean}} Picture
 */

/** Undefined until it is first reckoned. */
export const picture = signal(/** @type {Picture | undefined} */ (undefined));

/** Why there is no newer one, in the core's words; '' while there is or may be. */
export const trouble = signal('');

/** Whether everything on file is read. */
export const read = signal(false);
Promise.all(['household', 'outing', 'device', ...Object.values(LISTS)].map(ready)).then(() => (read.value = true));

/** A picture older than this is none to decide by, milliseconds. */
const OLD_MS = 150_000;

/** Whether the household's book has never come to this phone in full: a sign may still be on its way. */
export const coming = computed(() => Boolean(me.value) && syncState.value.lastMs === undefined);

/** Whether the picture is that of now, so that somebody may be cleared by it. */
export const current = computed(() => picture.value !== undefined && !coming.value && trouble.value === '' && core.value !== 'failed' && core.value !== 'mismatch' && now.value - picture.value.atMs < OLD_MS);

/** What is due, what is overdue first; [] until it is reckoned. */
export const due = computed(() => picture.value?.due ?? []);

/** @typedef {import('./picture-held.js').Fields} Fields */

/** @param {Rec[]} list @returns {Fields[]} those of what is not deleted */
const fieldsOf = (list) => list.filter(({ deleted }) => !deleted).map(({ id, fields }) => ({ ...fields, id }));

/** @param {string} kind */
const living = (kind) => computed(() => fieldsOf(records(kind).value));

const byOrder = (/** @type {Fields} */ a, /** @type {Fields} */ b) => (a.order ?? Infinity) - (b.order ?? Infinity) || String(a.name ?? '').localeCompare(String(b.name ?? ''), undefined, { numeric: true });

/** The tanks on file, in shelf order: fields with the id beside them. */
export const tanks = computed(() => fieldsOf(records('tank').value).sort(byOrder));
export const systems = computed(() => fieldsOf(records('system').value).sort(byOrder));
export const specimens = living('specimen');
export const events = living('event');
export const readings = living('reading');
export const members = living('member');

/** The household's record of its home: its zone, its climate. */
export const home = computed(() => householdFields.value.home ?? {});

/** Days are counted in the zone of the home; in that of this phone until the household has said. */
export const zone = computed(() => String(home.value.zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone ?? 'UTC'));

/** What this phone may do in the tanks. */
export const may = computed(() => {
  const role = !meRead.value ? 'guest' : me.value?.device.role ?? 'keeper'; // a phone that is alone is its own keeper
  return { note: role !== 'guest', decide: role === 'keeper' || role === 'collector', overrule: role === 'keeper' };
});

/** What the core is asked with all that is on file now. */
export const question = () => whole(zone.value);

/**
 * Asks the clock something more, from all that is on file now.
 * @param {{fits?: {specimen: string, tank: string}[], recall?: string}} more
 * @returns {Promise<any>} rejects with a CoreError
 */
export const ask = (more) => askClock(zone.peek(), more);

/** A few times a second at most, in milliseconds. */
const LEAST_MS = 300;
let asking = false;
let again = false;
let waits = false;

async function reckon() {
  if (asking) return void (again = true);
  asking = true;
  again = false;
  try {
    const answer = await askClock(zone.peek());
    picture.value = { ...answer, atMs: Date.now(), stale: again };
    trouble.value = '';
  } catch (error) {
    trouble.value = /** @type {Error} */ (error).message;
    if (picture.peek()) picture.value = { .../** @type {Picture} */ (picture.peek()), stale: true };
  }
  asking = false;
  if (again) soon();
}

function soon() {
  if (waits) return;
  waits = true;
  setTimeout(() => {
    waits = false;
    reckon();
  }, LEAST_MS);
}

// Whatever is told of, the minute, and a core that comes back call for a new picture.
effect(() => {
  for (const kind of [...Object.values(LISTS), 'household']) void records(kind).value;
  void now.value;
  const here = place.value === 'tanks';
  const up = core.value === 'ready' || core.value === 'starting';
  if (!read.value) return;
  const had = picture.peek();
  if (had && !had.stale) picture.value = { ...had, stale: true };
  if (!here || (!up && had)) return;
  if (had && Date.now() - had.atMs < OLD_MS) soon();
  else reckon(); // nobody waits for what is long out of date
});

/** Asks once more, where it failed. */
export const reckonAgain = () => reckon();

/** How long a newer picture is waited for, in milliseconds. */
const PATIENCE_MS = 5_000;

/**
 * The picture of all that is noted by now, which may just be being reckoned: what nobody can
 * take back is decided by this one.
 * @returns {Promise<Picture | undefined>} undefined where none comes in time, and where this
 *   phone's clock is ahead of the server's: its days end too early
 */
export function fresh() {
  if ((clockOffMs.peek() ?? 0) > CLOCK_OFF_MS) return Promise.resolve(undefined);
  return new Promise((resolve) => {
    const end = (/** @type {Picture | undefined} */ is) => {
      clearTimeout(timer);
      // The first call comes before subscribe has returned.
      Promise.resolve().then(() => stop());
      resolve(is);
    };
    const timer = setTimeout(() => end(undefined), PATIENCE_MS);
    const stop = picture.subscribe((is) => is && !is.stale && Date.now() - is.atMs < OLD_MS && end(is));
  });
}

/**
 * Whether a specimen may be given to anybody by all that is noted by now.
 * @param {string} id
 * @returns {Promise<boolean>} false where nobody knows
 */
export const mayHandOn = async (id) => Boolean((await fresh())?.specimens.some((one) => one.id === id && !one.gone && one.handOn.length === 0));

const by = (/** @type {() => Fields[]} */ list) => computed(() => new Map(list().map((one) => [one.id, one])));
const tanksById = by(() => tanks.value);
const systemsById = by(() => systems.value);
const specimensById = by(() => specimens.value);
const membersById = by(() => members.value);
const statesByKey = computed(() => new Map(picture.value?.systems.map((one) => [one.key, one])));
const statesById = computed(() => new Map(picture.value?.specimens.map((one) => [one.id, one])));

/** @param {string} id @returns {Record<string, any> | undefined} its fields, with id */
export const tankOf = (id) => tanksById.value.get(id);

/**
 * A specimen's fields, its kind as it was identified last, its id and, once reckoned, its state.
 * @param {string} id
 * @returns {(Record<string, any> & {id: string, taxon: string, group: string, state?: SpecimenState}) | undefined}
 */
export function specimenOf(id) {
  const found = specimensById.value.get(id);
  return found && { ...found, ...kindOf(found), id, state: statesById.value.get(id) };
}

/**
 * A water system: one on file, or a tank that stands alone.
 * @param {string} ref "system/…" or "tank/…"; of a tank within a system, that system
 * @returns {{ref: string, kind: string, id: string, name: string, fields: Record<string, any>, state?: SystemState} | undefined}
 */
export function systemOf(ref) {
  const [kind, id] = ref.split('/');
  const at = kind === 'tank' ? picture.value?.systems.find(({ tanks: list }) => list.includes(id))?.key ?? ref : ref;
  const [is, its] = at.split('/');
  const fields = (is === 'system' ? systemsById : tanksById).value.get(its);
  const state = statesByKey.value.get(at);
  return fields || state ? { ref: at, kind: is, id: its, name: nameOf(at), fields: fields ?? {}, state } : undefined;
}

const findsById = computed(() => new Map(records('find').value.map((rec) => [rec.id, rec])));

/**
 * What a specimen is, as it was identified last: its find may have been named since.
 * @param {Record<string, any>} specimen its fields
 * @returns {{taxon: string, group: string}}
 */
export function kindOf({ taxon, group, find }) {
  const rec = findsById.value.get(find);
  const last = rec && !rec.deleted ? findOf(rec).identified.pop() : undefined;
  return { taxon: last?.taxon ?? taxon ?? UNSURE, group: last?.group ?? group ?? UNSURE };
}

/**
 * Whether two are of one kind, and so may be put together.
 * @param {Record<string, any> | undefined} a
 * @param {Record<string, any> | undefined} b
 */
export const alike = (a, b) => Boolean(a && b) && kindOf(a ?? {}).taxon === kindOf(b ?? {}).taxon && kindOf(a ?? {}).group === kindOf(b ?? {}).group;

/**
 * What a record is called: "Jar 3", "Sea lettuce". '' where it is not on file.
 * @param {string | null | undefined} ref "tank/…", "system/…", "specimen/…", "member/…"
 */
export function nameOf(ref) {
  const [kind, id] = (ref ?? '').split('/');
  if (kind === 'specimen') {
    const one = specimensById.value.get(id);
    return one ? String(one.name || called(kindOf(one).taxon)) : '';
  }
  const map = { tank: tanksById, system: systemsById, member: membersById }[kind];
  return String(map?.value.get(id)?.name ?? '');
}

/**
 * What some specimens are called, each name once.
 * @param {string[]} ids
 */
export const namesOfAll = (ids) => [...new Set(ids.map((id) => nameOf(`specimen/${id}`)).filter(Boolean))];

/**
 * Notes one event: a record with exactly one field. at is now and by is whose phone this is,
 * unless the value says otherwise.
 * @param {string} field what happened: arrived, checked, sign …
 * @param {Record<string, any>} value its parts
 * @param {string} [note]
 * @returns {Promise<{id: string, kept: boolean}>} kept: whether this phone has kept it
 */
export async function writeEvent(field, value, note) {
  const id = uuidv7();
  const kept = await write('event', id, { [field]: { at: instant(), by: owner.peek(), ...value }, ...(note ? { note } : {}) });
  return { id, kept };
}
