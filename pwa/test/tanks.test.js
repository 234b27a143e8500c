// What Tanks reckons by itself: which days a strip shows, what comes of a find, the order of
// what is due. Expectations are worked by hand.

import { test } from 'node:test';
import assert from 'node:assert/strict';
import { fitting } from '../app/ui/tanks/check-fitting.js';
import { grouped } from '../app/ui/tanks/due-order.js';
import { arrivalId, jarNames, settledId, specimensOf, unsettled } from '../app/ui/tanks/settle-in.js';
import { missingWords } from '../app/ui/tanks/specimen-missing.js';
import { pausedBy, runsOf, shownDays } from '../app/ui/tanks/strip-days.js';
import { outcome, stops } from '../app/ui/tanks/walk-list.js';

const FIND = '0190c5a1-7b2c-7123-8abc-0123456789ab';

/** @param {Record<string, any>} fields */
const find = (fields) => /** @type {any} */ ({ id: FIND, atMs: 0, taxon: 'Ulva lactuca', group: 'greens', fate: 'taken', amount: null, putBack: null, deleted: false, ...fields });

test('the ids of what is settled in follow from the find, and no two are alike', () => {
  const ids = Array.from({ length: 12 }, (_, part) => settledId(FIND, part));
  const all = [FIND, ...ids, ...ids.map(arrivalId)];
  assert.equal(new Set(all).size, 25);
  for (const id of all.slice(1)) assert.match(id, /^[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/); // RFC 9562, version 8
  assert.equal(settledId(FIND, 3), settledId(FIND, 3));
});

test('one bag into six jars: six fates, one origin, nothing added and nothing lost', () => {
  const parts = specimensOf(find({ amount: { value: 20, unit: 'count' } }), 6, 'cut');
  assert.deepEqual(parts.map(({ fields }) => fields.amount.value), [4, 4, 3, 3, 3, 3]);
  assert.deepEqual(parts.map(({ fields }) => fields.lot), [undefined, ...Array(5).fill(parts[0].id)]);
  for (const { fields } of parts) assert.deepEqual([fields.find, fields.base, fields.origin], [FIND, 'cut', 'wild']);
  assert.deepEqual(specimensOf(find({ amount: { value: 1, unit: 'g' } }), 3, '').map(({ fields }) => fields.amount), Array(3).fill({ value: 0.333, unit: 'g' }));
  // Two animals into three jars: nobody knows which is empty.
  assert.deepEqual(specimensOf(find({ group: 'snails', amount: { value: 2, unit: 'count' } }), 3, 'cut').map(({ fields }) => fields.amount), [{ value: 1, unit: 'count' }, { value: 1, unit: 'count' }, null]);
  assert.equal('base' in specimensOf(find({ group: 'snails' }), 1, 'cut')[0].fields, false, 'a snail has no holdfast');
});

test('what was put back, only seen, taken off or settled in is not to be settled in', () => {
  const list = [
    find({ id: 'a', amount: { value: 3, unit: 'count' } }), find({ id: 'b', putBack: { at: '' } }), find({ id: 'c', fate: 'seen' }),
    find({ id: 'd', deleted: true }), find({ id: 'e' }), find({ id: 'f', amount: { value: 3, unit: 'count' }, putBack: { at: '', amount: { value: 1, unit: 'count' } } }),
  ];
  assert.deepEqual(unsettled(list, [{ find: 'e' }, { find: null }]).map(({ id }) => id), ['a', 'f']);
  assert.deepEqual(specimensOf(list[5], 1, '')[0].fields.amount, { value: 2, unit: 'count' });
});

test('new jars go on from the highest number', () => {
  assert.deepEqual(jarNames('Jar', 2, ['Jar 2', 'Jar 9', 'Jar of stones', 'jar 40']), ['Jar 10', 'Jar 11']);
  assert.deepEqual(jarNames('Jar', 1, []), ['Jar 1']);
});

/** @param {string} letters */
const days = (letters) => [...letters].map((letter, i) => ({ day: `2026-03-${String(i + 1).padStart(2, '0')}`, kind: /** @type {any} */ ({ R: 'restarted', Q: 'quiet', P: 'paused', D: 'done', T: 'today' })[letter] }));

test('a strip shows the last days, from the arrival on, and reads as runs', () => {
  assert.deepEqual(shownDays(days('RQQQQT'), 3).map(({ day }) => day), ['2026-03-04', '2026-03-05', '2026-03-06']);
  assert.deepEqual(shownDays(days('RQQQQT'), 9, '2026-03-05').length, 2);
  assert.deepEqual(runsOf(days('RQQPQT')).map(({ kind, from, to, days: n }) => `${kind} ${from.slice(8)}-${to.slice(8)} ${n}`),
    ['restarted 01-01 1', 'quiet 02-03 2', 'paused 04-04 1', 'quiet 05-05 1', 'today 06-06 1']);
  assert.deepEqual(runsOf([]), []);
});

test('a sign stands before a gap as what holds a system up', () => {
  assert.equal(pausedBy({ state: 'paused', open: [/** @type {any} */ ({})] }), 'sign');
  assert.equal(pausedBy({ state: 'paused', open: [] }), 'gap');
  assert.equal(pausedBy({ state: 'waiting', open: [] }), '');
});

test('what is due: what the authority must hear of, then what is overdue, many of a kind in one', () => {
  const due = (/** @type {string} */ what, /** @type {boolean} */ overdue, n = 1) => Array.from({ length: n }, (_, i) => /** @type {any} */ ({ what, system: `tank/${i}`, day: '', overdue }));
  const groups = grouped([...due('read', true), ...due('check', false, 4), ...due('ask', false), ...due('sign', true), ...due('clear', false, 2)]);
  assert.deepEqual(groups.map(({ what, list }) => [what, list.length]), [['ask', 1], ['sign', 1], ['read', 1], ['check', 4], ['clear', 1], ['clear', 1]]);
  assert.deepEqual(grouped([...due('check', false, 2), ...due('check', true)]).map(({ overdue, list }) => [overdue, list.length]), [[true, 3]], 'one that is overdue makes the walk overdue');
});

test('a walk: who is marked is not among those that looked the same', () => {
  const list = /** @type {any} */ ([{ key: 'tank/a', residents: ['x'] }, { key: 'tank/b', residents: [] }, { key: 'tank/c', residents: ['y'] }, { key: 'tank/d', residents: ['z'] }]);
  const at = stops(list);
  assert.deepEqual(at.map(({ key }) => key), ['tank/a', 'tank/c', 'tank/d']);
  assert.deepEqual(outcome(at, { 'tank/c': { looked: 'seen', topUp: true }, 'tank/d': { looked: 'not', topUp: false } }), { same: ['tank/a'], seen: ['tank/c'], topUps: ['tank/c'] });
});

test('every word of what is missing has its sentence', () => {
  // The closed list of internal/settle/clearance.go.
  const words = ['arrival', 'place', 'stopped', 'sign', 'days', 'check', 'dips', 'search', 'date', 'record', 'water'];
  const state = { missing: words, dips: 1, dipsNeeded: 3, searchesNeeded: 2 };
  const lines = missingWords(state, { quiet: 8, wait: 28 });
  assert.equal(new Set(lines).size, words.length);
  for (const line of lines) assert.doesNotMatch(line, /^Missing:/);
  assert.equal(lines[4], '20 quiet days of 28 are missing.');
  assert.equal(lines[6], '1 of 3 dips are done.');
  assert.equal(missingWords({ ...state, missing: ['days'] }, { quiet: 27, wait: 28 })[0], 'One quiet day of 28 is missing.');
  assert.equal(missingWords({ ...state, missing: ['days'] }, undefined)[0], 'Quiet days were missing.');
});

test('the signs offered are those of the groups that live there', () => {
  const sign = (/** @type {string} */ id, /** @type {string[]} */ ...groups) => ({ id, what: id, look: '', groups, grade: 'watch', from: 'CP' });
  const signs = [sign('melting', 'greens', 'reds'), sign('moult', 'crabs'), sign('sores', 'animals'), sign('smell', '*')];
  const ids = (/** @type {string[]} */ groups) => fitting(signs, groups).map(({ id }) => id);
  assert.deepEqual(ids(['greens']), ['melting', 'smell']);
  assert.deepEqual(ids(['snails']), ['sores', 'smell']);
  assert.deepEqual(ids(['crabs', 'reds']), ['melting', 'moult', 'sores', 'smell']);
  assert.deepEqual(ids(['unsure']), ['melting', 'moult', 'sores', 'smell'], 'nobody knows what it is: any of them');
  assert.deepEqual(ids([]), ['melting', 'moult', 'sores', 'smell']);
});
