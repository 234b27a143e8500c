// A plan as typed and as a record. Los Angeles is 8 hours behind UTC in winter (tz database).

import test from 'node:test';
import assert from 'node:assert/strict';
import { changes, comer, freshTrip, read, tripOf } from '../app/ui/shore/outing-fields.js';
import { findOf } from '../app/ui/shore/catch-up-row.js';
import { outingOf } from '../app/ui/shore/outing.js';
import { headTimes } from '../app/ui/shore/outing-times.js';
import { message } from '../app/ui/shore/tell-message.js';

const LA = 'America/Los_Angeles';
const planned = { from: '2026-12-24T23:00:00Z', to: '2026-12-25T00:26:30Z', startBack: '2026-12-25T00:26:30Z', offBy: '2026-12-25T00:41:30Z' };
const members = [{ id: 'ada', name: 'Ada', as: 'child' }, { id: 'jo', name: 'Jo', as: 'adult' }];
const shore = /** @type {any} */ ({ id: 's', name: 'Heron Ledge', zone: LA, lat: 37.9, lon: -122.5, distanceKm: 4, escape: 'the steps by the slip' });
const offByMs = Date.parse(planned.offBy);

const trip = () => ({ ...freshTrip(shore, undefined, members), on: '2026-12-24', planned, who: 'Gran', call: '+1' });
/** @param {Record<string, any>} fields @returns {import('../app/data/book.js').Rec} */
const record = (fields) => ({ kind: 'outing', id: 'o', fields, flags: [], deleted: false });

test('a plan comes back from its record unchanged, and changes nothing', () => {
  const written = { ...trip(), party: [comer(members[1], []), { ...comer(members[0], []), with: 'jo' }], due: '17:30' };
  const { fields, wrong } = read(written, LA, offByMs + 1_800_000);
  assert.deepEqual(wrong, {});
  assert.ok(fields);
  assert.equal(fields.ashore.dueBack, '2026-12-25T01:30:00Z');
  const again = tripOf(outingOf(record(fields)), LA, '');
  assert.deepEqual(changes(/** @type {any} */ (read(again, LA, undefined).fields), fields), {});
});

test('due back is what is proposed, unless another time is written; before off by it is refused', () => {
  assert.equal(read(trip(), LA, offByMs + 1_800_000).fields?.ashore.dueBack, '2026-12-25T01:11:30Z');
  assert.equal(read({ ...trip(), due: '0:30' }, LA, offByMs).fields?.ashore.dueBack, '2026-12-25T08:30:00Z', 'after midnight');
  assert.deepEqual(Object.keys(read({ ...trip(), due: '12:00' }, LA, offByMs).wrong), ['due'], 'noon of the day after');
  assert.deepEqual(Object.keys(read({ ...trip(), due: '16:30' }, LA, offByMs).wrong), ['due']);
  assert.deepEqual(Object.keys(read({ ...trip(), due: 'noon' }, LA, offByMs).wrong), ['due']);
  assert.deepEqual(Object.keys(read({ ...trip(), due: '17:30', who: '' }, LA, offByMs).wrong), ['who']);
  assert.deepEqual(Object.keys(read({ ...trip(), planned: null }, LA, undefined).wrong), ['due'], 'nothing is proposed without a window');
  assert.equal(read({ ...trip(), who: '' }, LA, offByMs).fields?.ashore, null, 'nobody ashore knows: nothing is made up');
});

test('each field is bounded as the book has it', () => {
  const long = (/** @type {number} */ n) => 'x'.repeat(n);
  for (const [field, most] of /** @type {[string, number][]} */ ([['who', 80], ['call', 300], ['note', 2000]])) {
    assert.deepEqual(read({ ...trip(), [field]: long(most) }, LA, offByMs).wrong, {}, field);
    assert.deepEqual(Object.keys(read({ ...trip(), [field]: long(most + 1) }, LA, offByMs).wrong), [field]);
  }
  for (const [number, ok] of /** @type {[string, boolean][]} */ ([['1', true], ['99', true], ['', true], ['0', false], ['100', false], ['1.5', false], ['a', false]])) {
    const { wrong } = read({ ...trip(), party: [{ ...comer(members[0], []), number }] }, LA, offByMs);
    assert.deepEqual(Object.keys(wrong), ok ? [] : ['number-ada'], number);
  }
});

test('who leaves the party leaves nobody with them, and the record says so', () => {
  const before = read({ ...trip(), party: [comer(members[1], []), { ...comer(members[0], []), with: 'jo' }] }, LA, offByMs).fields ?? {};
  const after = read({ ...trip(), party: [{ ...comer(members[0], []), with: 'jo' }], gear: [] }, LA, offByMs).fields ?? {};
  const changed = changes(after, before);
  assert.equal(changed['party/jo'], null);
  assert.equal('with' in changed['party/ada'], false);
  assert.equal(changed['gear/boots'], null);
});

test('children get the next number that nobody wears', () => {
  const party = [{ ...comer(members[0], []), number: '1' }, { ...comer({ id: 'x', name: 'X', as: 'child' }, []), number: '3' }];
  assert.equal(comer({ id: 'y', name: 'Y', as: 'child' }, party).number, '2');
  assert.equal(comer({ id: 'z', name: 'Z', as: 'adult' }, party).number, '', 'adults wear none');
});

test('heads: every quarter of an hour and at start back', () => {
  const clocks = headTimes({ ...planned, startBack: '2026-12-25T00:20:00Z' }).map((ms) => new Date(ms).toISOString().slice(11, 16));
  assert.deepEqual(clocks, ['23:15', '23:30', '23:45', '00:00', '00:15', '00:20', '00:30']);
  assert.deepEqual(headTimes(null), []);
  assert.ok(headTimes({ ...planned, to: '2030-01-01T00:00:00Z', offBy: null }).length <= 40);
});

test('the message: where, who, by when, whom to call and when; children are counted', () => {
  const { fields } = read({ ...trip(), due: '17:30' }, LA, undefined);
  const household = { name: '', country: 'US', numbers: [{ id: '1', what: 'Coastguard', number: '911', note: '' }], graceMin: 45, childrenAtNight: undefined };
  const words = message(outingOf(record(fields ?? {})), shore, household);
  for (const part of ['Heron Ledge, Thu 24 Dec 2026', '37° 54.000′ N, 122° 30.000′ W', '1 adult and 1 child: Jo and the children', '15:00 to 16:26', 'Start back 16:26, off the rocks by 16:41',
    'Due back 24 Dec, 17:30. Gran', 'by 18:15 (45 minutes later)', 'Coastguard: 911', 'the steps by the slip', 'No program alerts anybody', 'look at the sea']) assert.ok(words.includes(part), `${part} in ${words}`);
  assert.ok(!words.includes('Ada'));
  const bare = message(outingOf(record({ shore: 's' })), { ...shore, distanceKm: null, escape: '' }, { ...household, numbers: [] });
  assert.ok(bare.includes('No time is set') && bare.includes('no window was reckoned'));
  assert.ok(!bare.includes('Position'), 'the station’s position is not the shore’s');
});

test('a row of the slate', () => {
  const row = { time: '15:10', kind: ' Pagurus samuelis ', amount: '3', who: 'ada', fate: /** @type {const} */ ('seen') };
  const outing = { id: 'o', shore: 's' };
  const nowMs = Date.parse('2026-12-25T03:00:00Z');
  const of = (/** @type {object} */ change) => findOf({ ...row, ...change }, outing, '2026-12-24', LA, nowMs);
  assert.deepEqual(of({}).fields, { at: '2026-12-24T23:10:00Z', outing: 'o', shore: 's', by: 'ada', taxon: 'Pagurus samuelis', fate: 'seen', amount: { value: 3, unit: 'count' }, noted: 'slate' });
  assert.equal(of({ kind: '' }).fields?.taxon, 'unsure');
  assert.equal(of({ amount: '' }).fields?.amount, undefined);
  for (const [change, field] of /** @type {[object, string][]} */ ([[{ time: '' }, 'time'], [{ time: '19:01' }, 'time'], [{ amount: '0' }, 'amount'], [{ amount: '10000' }, 'amount'], [{ kind: 'x'.repeat(121) }, 'kind']])) {
    assert.deepEqual(Object.keys(of(change).wrong), [field], JSON.stringify(change));
  }
});
