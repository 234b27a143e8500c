// A tick sheet as it is typed in. Times of Europe/London: UTC in winter, an hour ahead of it
// until 25 October 2026.

import test from 'node:test';
import assert from 'node:assert/strict';
import { systemsOf } from '../app/ui/tanks/ticks-shelf.js';
import { checksOn, emptyDay, isDay, lookedAt, mondayOf, tickId, ticksOf, weekOf } from '../app/ui/tanks/ticks-week.js';

const ZONE = 'Europe/London';
const NOW = Date.parse('2026-12-10T18:00:00Z'); // a Thursday

test('weeks begin on Mondays', () => {
  for (const [day, monday] of [['2026-12-10', '2026-12-07'], ['2026-12-07', '2026-12-07'], ['2026-12-13', '2026-12-07'], ['2027-01-01', '2026-12-28']]) assert.equal(mondayOf(day), monday, day);
  assert.deepEqual(weekOf('2026-12-28'), ['2026-12-28', '2026-12-29', '2026-12-30', '2026-12-31', '2027-01-01', '2027-01-02', '2027-01-03']);
});

test('a path names a day or does not', () => {
  for (const day of ['2026-12-10', '2028-02-29']) assert.ok(isDay(day), day);
  for (const day of ['2026-02-29', '2026-13-01', '26-12-10', 'enter', '', undefined]) assert.ok(!isDay(day), String(day));
});

test('a time is of the day on the clock of the home; without one noon counts; none is to come', () => {
  const rows = /** @type {[string, string, string][]} */ ([
    ['18:05', '2026-12-09', '2026-12-09T18:05:00.000Z'], ['0705', '2026-12-09', '2026-12-09T07:05:00.000Z'], ['', '2026-12-09', '2026-12-09T12:00:00.000Z'],
    ['', '2026-10-01', '2026-10-01T11:00:00.000Z'], ['23.30', '2026-10-01', '2026-10-01T22:30:00.000Z'], ['18:00', '2026-12-10', '2026-12-10T18:00:00.000Z'],
  ]);
  for (const [time, day, at] of rows) {
    const found = lookedAt(time, day, ZONE, NOW);
    assert.ok('ms' in found, `${time} on ${day}`);
    assert.equal(new Date(found.ms).toISOString(), at);
  }
  assert.deepEqual(lookedAt('18:01', '2026-12-10', ZONE, NOW), { wrong: 'future' });
  assert.deepEqual(lookedAt('', '2026-12-11', ZONE, NOW), { wrong: 'future' });
  assert.deepEqual(lookedAt('25:00', '2026-12-09', ZONE, NOW), { wrong: 'time' });
  assert.deepEqual(lookedAt('', '2026-12-10', ZONE, Date.parse('2026-12-10T08:00:00Z')), { ms: Date.parse('2026-12-10T08:00:00Z') }, 'before noon: now');
});

test('the id of a tick is the same wherever it is typed in, and another for another', async () => {
  const id = await tickId('checked', 'tank/a', '2026-12-09');
  assert.match(id, /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/); // RFC 9562, version 7
  assert.equal(await tickId('checked', 'tank/a', '2026-12-09'), id);
  const others = await Promise.all([tickId('sign', 'tank/a', '2026-12-09'), tickId('checked', 'tank/b', '2026-12-09'), tickId('checked', 'tank/a', '2026-12-08')]);
  assert.equal(new Set([id, ...others]).size, 4);
});

test('ticks become checks with their own day and observer, something seen a sign', async () => {
  const typed = { ...emptyDay(), time: '10:00', who: 'mara', marks: /** @type {any} */ ({ 'tank/a': 'looked', 'tank/b': 'seen', 'tank/c': 'seen', 'tank/d': 'seen', 'tank/e': '' }),
    seen: { 'tank/b': { what: ' a worm ', grade: 'harmless' }, 'tank/c': { what: 'a white spot', grade: 'unsure' }, 'tank/d': { what: 'pale', grade: 'watch' } } };
  const { events, wrong } = await ticksOf(typed, '2026-12-09', ZONE, NOW, ['tank/a', 'tank/b', 'tank/c', 'tank/d', 'tank/e']);
  assert.deepEqual(wrong, {});
  const value = (/** @type {string} */ of) => ({ at: '2026-12-09T10:00:00Z', of, by: 'mara' });
  assert.deepEqual(events.map(({ fields }) => fields), [
    { checked: { ...value('tank/a'), signs: [] } },
    { checked: { ...value('tank/b'), signs: [] } }, { sign: { ...value('tank/b'), what: 'a worm', grade: 'harmless' } },
    { sign: { ...value('tank/c'), what: 'a white spot', grade: 'unsure' } }, // no quiet check beside what may be disease
    { checked: { ...value('tank/d'), signs: [] } }, { sign: { ...value('tank/d'), what: 'pale', grade: 'watch' } },
  ]);
  assert.equal(new Set(events.map(({ id }) => id)).size, 6);
});

test('what is wrong is said and nothing is kept', async () => {
  const day = { ...emptyDay(), who: 'mara', marks: /** @type {any} */ ({ a: 'looked', b: 'seen' }), seen: { b: { what: 'a spot', grade: 'watch' } } };
  const rows = /** @type {[any, string, string][]} */ ([
    [{ who: '' }, 'who', 'who'], [{ time: 'soon' }, 'time', 'time'], [{ marks: {} }, 'marks', 'none'], [{ seen: {} }, 'b', 'what'],
    [{ seen: { b: { what: 'x'.repeat(301), grade: 'watch' } } }, 'b', 'long'], [{ seen: { b: { what: 'a spot', grade: '' } } }, 'b', 'grade'],
  ]);
  assert.deepEqual((await ticksOf(day, '2026-12-09', ZONE, NOW, ['a', 'b'])).wrong, {});
  for (const [change, part, why] of rows) assert.deepEqual(await ticksOf({ ...day, ...change }, '2026-12-09', ZONE, NOW, ['a', 'b']), { events: [], wrong: { [part]: why } }, why);
  // A system that is on file already is not asked for, whatever was marked before.
  assert.equal((await ticksOf(day, '2026-12-09', ZONE, NOW, ['b'])).events.length, 2);
});

test('a check of the system or of a tank in it is on file for the local day alone', () => {
  const events = [
    { id: '1', checked: { at: '2026-12-08T23:59:00Z', of: 'tank/a', by: 'mara', signs: [] } }, { id: '2', checked: { at: '2026-12-09T00:00:00Z', of: 'system/s', by: null, signs: ['spot'] } },
    { id: '3', checked: { at: '2026-12-09T09:00:00Z', of: 'tank/z', by: 'mara', signs: [] } }, { id: '4', sign: { at: '2026-12-09T09:00:00Z', of: 'tank/a', what: 'x', grade: 'watch' } },
  ];
  assert.deepEqual(checksOn(events, ['system/s', 'tank/a'], '2026-12-09', ZONE), [{ id: '2', at: '2026-12-09T00:00:00Z', by: null, signs: ['spot'] }]);
});

test('systems stand where the first of their tanks does; a tank alone is its own', () => {
  const at = (/** @type {number} */ day) => `2026-12-0${day}T10:00:00Z`;
  const joined = (/** @type {string} */ tank, /** @type {number} */ day, /** @type {string} */ system) => ({ id: '', joined: { at: at(day), of: `tank/${tank}`, system } });
  const left = (/** @type {string} */ tank, /** @type {number} */ day, /** @type {string} */ system) => ({ id: '', left: { at: at(day), of: `tank/${tank}`, system } });
  const shelf = (/** @type {any[]} */ events) => systemsOf(['a', 'b', 'c'], ['s', 'r'], events);
  assert.deepEqual(shelf([]), [['tank/a'], ['tank/b'], ['tank/c']]);
  assert.deepEqual(shelf([joined('c', 1, 's'), joined('a', 2, 's')]), [['system/s', 'tank/a', 'tank/c'], ['tank/b']]);
  assert.deepEqual(shelf([left('c', 3, 's'), joined('c', 1, 's')]), [['tank/a'], ['tank/b'], ['tank/c']], 'in any order');
  assert.deepEqual(shelf([joined('c', 3, 'r'), left('c', 3, 's'), joined('c', 1, 's')]), [['tank/a'], ['tank/b'], ['system/r', 'tank/c']], 'leaving comes first');
  assert.deepEqual(shelf([joined('b', 1, 'gone')]), [['tank/a'], ['tank/b'], ['tank/c']], 'a system that is not on file');
});
