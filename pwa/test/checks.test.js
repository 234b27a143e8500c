// Go or no-go: what is not answered is open, a bad answer holds, a good one about the weather
// is good for twelve hours.

import test from 'node:test';
import assert from 'node:assert/strict';
import { checksOf, isDarkIn, partyFaults, verdictOf, WEATHER } from '../app/ui/shore/checks.js';
import { outingOf } from '../app/ui/shore/outing.js';

const nowMs = Date.parse('2026-12-24T20:00:00Z');
const at = (/** @type {number} */ hoursAgo) => new Date(nowMs - hoursAgo * 3_600_000).toISOString();
const shore = { swellLimit: 1, night: null };
const light = { dark: false };
const ada = { as: 'adult', name: 'Ada', does: 'watches' };
const ben = { as: 'adult', name: 'Ben', does: 'gathers' };
const cleo = { as: 'child', name: 'Cleo', number: 1, with: 'ada' };

/** An outing of which everything is in order. */
const good = () => ({
  id: 'o', deleted: false, flags: [], kind: 'outing', fields: /** @type {Record<string, any>} */ ({
    shore: 's', purpose: 'home', planned: { from: '2026-12-24T22:00:00Z', to: '2026-12-25T01:00:00Z', startBack: '2026-12-25T00:40:00Z', offBy: '2026-12-25T00:55:00Z' },
    'party/ada': ada, 'party/ben': ben, 'party/cleo': cleo, 'gear/boots': { what: 'Boots', packed: true },
    ashore: { who: 'Gran', dueBack: '2026-12-25T02:00:00Z' },
    'checks/swell': { at: at(1), fine: true, value: 0.8 },
    ...Object.fromEntries([...WEATHER.slice(1), 'animals'].map((word) => [`checks/${word}`, { at: at(1), fine: true }])),
  }),
});

/** @param {Record<string, any>} change @param {any} [where] @param {any} [house] @param {any} [sun] */
const check = (change, where = shore, house = { childrenAtNight: undefined }, sun = light) => {
  const record = good();
  Object.assign(record.fields, change);
  const checks = checksOf(outingOf(record), where, house, sun, nowMs);
  return { checks, verdict: verdictOf(checks), of: (/** @type {string} */ word) => checks.filter((one) => one.word === word).map(({ state }) => state) };
};

test('nothing speaks against it only where everything is answered', () => {
  assert.equal(check({}).verdict.word, 'nothing');
  for (const word of [...WEATHER, 'animals']) {
    assert.equal(check({ [`checks/${word}`]: null }).verdict.word, 'open', word);
    assert.deepEqual(check({ [`checks/${word}`]: null }).of(word), ['open'], word);
  }
  assert.equal(check({ 'gear/gloves': { what: 'Gloves', packed: false } }).verdict.word, 'open');
  assert.equal(check({ ashore: null }).verdict.word, 'open');
  assert.equal(check({}, shore, undefined, undefined).of('light')[0] , 'fine', 'a default of this test');
  assert.deepEqual(checksOf(outingOf(good()), shore, { childrenAtNight: true }, undefined, nowMs).filter(({ word }) => word === 'light').map(({ state }) => state), ['open'], 'the light is not known');
});

test('weather goes stale after twelve hours, a bad answer never becomes better by age', () => {
  const rows = /** @type {const} */ ([[0, 'fine'], [11.99, 'fine'], [12.01, 'stale'], [72, 'stale'], [-0.05, 'fine'], [-1, 'stale']]);
  for (const [hours, want] of rows) assert.deepEqual(check({ 'checks/wind': { at: at(hours), fine: true } }).of('wind'), [want], `${hours} h`);
  assert.deepEqual(check({ 'checks/wind': { at: at(72), fine: false } }).of('wind'), ['no']);
  assert.deepEqual(check({ 'checks/animals': { at: at(72), fine: true } }).of('animals'), ['fine'], 'the season is no weather');
  assert.equal(check({ 'checks/wind': { at: at(13), fine: true } }).verdict.word, 'open');
});

test('swell above the shore’s limit is a no, whatever was answered', () => {
  assert.deepEqual(check({ 'checks/swell': { at: at(1), fine: true, value: 1.0 } }).of('swell'), ['fine']);
  assert.deepEqual(check({ 'checks/swell': { at: at(1), fine: true, value: 1.1 } }).of('swell'), ['no']);
  assert.deepEqual(check({ 'checks/swell': { at: at(1), fine: true, value: 9 } }, { swellLimit: null, night: null }).of('swell'), ['fine'], 'no limit: the person said so');
  assert.deepEqual(check({ 'checks/swell': { at: at(1), fine: null, value: 0.2 } }).of('swell'), ['open']);
});

test('in the dark: forbidden and unknown are a no, children only where the household says so', () => {
  const dark = { dark: true };
  const lamps = { 'checks/lamps': { at: at(1), fine: true } };
  const rows = /** @type {const} */ ([
    ['allowed', true, 'nothing'], ['allowed', undefined, 'open'], ['allowed', false, 'no'],
    ['forbidden', true, 'no'], [null, true, 'no'], [null, undefined, 'no'],
  ]);
  for (const [night, childrenAtNight, want] of rows) {
    assert.equal(check(lamps, { swellLimit: 1, night }, { childrenAtNight }, dark).verdict.word, want, `${night} ${childrenAtNight}`);
  }
  assert.equal(check({}, { swellLimit: 1, night: 'allowed' }, { childrenAtNight: true }, dark).verdict.word, 'open', 'no lamps were asked for');
  assert.equal(check({ ...lamps, 'party/cleo': null }, { swellLimit: 1, night: 'allowed' }, { childrenAtNight: false }, dark).verdict.word, 'nothing', 'no children in the party');
});

test('dark is any part outside the sun', () => {
  const lit = [{ from: '2026-12-24T15:20:00Z', to: '2026-12-25T00:55:00Z' }];
  assert.equal(isDarkIn({ from: '2026-12-24T22:00:00Z', to: '2026-12-25T00:55:00Z' }, lit), false);
  assert.equal(isDarkIn({ from: '2026-12-24T22:00:00Z', to: '2026-12-25T00:55:01Z' }, lit), true);
  assert.equal(isDarkIn({ from: '2026-12-24T15:19:59Z', to: '2026-12-24T16:00:00Z' }, lit), true);
  assert.equal(isDarkIn({ from: '2026-12-24T22:00:00Z', to: '2026-12-24T23:00:00Z' }, []), true, 'polar night');
});

test('a party: numbers, somebody for each child, a watcher', () => {
  /** @type {import('../app/ui/shore/outing.js').Person[]} */
  const whole = [{ id: 'ada', ...ada }, { id: 'cleo', ...cleo, does: 'gathers' }].map((one) => /** @type {any} */ (one));
  const codes = (/** @type {any[]} */ party) => partyFaults(party).map(({ why }) => why[0]);
  const child = whole[1];
  assert.deepEqual(codes(whole), []);
  assert.deepEqual(codes([]), ['nobody']);
  assert.deepEqual(codes([whole[0]]), ['alone']);
  assert.deepEqual(codes([whole[0], { ...child, number: undefined }]), ['noNumber']);
  assert.deepEqual(codes([whole[0], { ...child, with: undefined }]), ['noBuddy']);
  assert.deepEqual(codes([whole[0], { ...child, with: 'cleo' }]), ['noBuddy'], 'not with oneself');
  assert.deepEqual(codes([whole[0], { ...child, with: 'gone' }]), ['noBuddy'], 'who is not in the party');
  assert.deepEqual(codes([...whole, { ...child, id: 'dov', with: 'cleo' }]), ['sameNumber'], 'said once');
  assert.deepEqual(codes([{ ...whole[0], does: 'gathers' }, child]), ['noWatcher']);
  assert.deepEqual(codes([{ ...child, with: 'dov' }, { ...child, id: 'dov', number: 2, with: 'cleo' }]), ['noAdult', 'noWatcher']);
});

test('alone needs somebody ashore; a due back that has passed is a no', () => {
  const alone = { 'party/ben': null, 'party/cleo': null };
  assert.deepEqual(check({ ...alone, ashore: null }).of('ashore'), ['no']);
  assert.deepEqual(check({ ashore: { who: 'Gran', dueBack: at(1) } }).of('ashore'), ['no']);
  assert.deepEqual(check({ planned: { ...good().fields.planned, offBy: at(1) } }).of('window'), ['no']);
  assert.deepEqual(check({ planned: null }).of('window'), ['open']);
});
