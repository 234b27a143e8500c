// What a change of a shore carries.

import test from 'node:test';
import assert from 'node:assert/strict';
import { apply, changed, fieldsOf, fresh } from '../app/data/shore-record.js';

const shore = {
  ...fresh, id: 'a', name: 'Heron Ledge', station: 's/1', stationName: 'Harbour', place: 'Bay', source: 'S', datum: 'LAT', release: '1', zone: 'UTC',
  lat: 1, lon: 2, below: 0.4,
};

test('only what changed, together with what it means something with', () => {
  const rows = [
    ['nothing', {}, []],
    ['a name', { name: 'Palm Flat' }, ['name']],
    ['a height', { below: 0.5 }, ['basis']],
    ['the way back', { wayOff: 1.1 }, ['basis']],
    ['its own tide', { differences: { minutes: [5, 5], heights: [0, 0], heightsAre: 'metres' } }, ['basis']],
    ['a position', { lat: 1.5, distanceKm: 3 }, ['place']],
    ['a zone and a note', { zone: 'Europe/Oslo', wayIn: 'by the slip' }, ['place', 'wayIn']],
    ['a deletion', { deleted: true }, ['deleted']],
    ['the swell', { swellLimit: 1.2 }, ['swellLimit']],
  ];
  for (const [name, change, want] of rows) assert.deepEqual(Object.keys(changed(shore, { ...shore, ...change })).sort(), want, name);
  assert.deepEqual(changed(shore, { ...shore, below: 0.5 }).basis, {
    station: 's/1', stationName: 'Harbour', place: 'Bay', source: 'S', datum: 'LAT', release: '1', differences: null, below: 0.5, wayOff: null,
  });
});

test('setting the fields of a shore on another gives the shore', () => {
  assert.deepEqual(apply({ id: 'a' }, fieldsOf(shore)), shore);
  const moved = { ...shore, name: 'Palm Flat', below: -0.1, station: 's/2', lat: 5, deleted: true };
  assert.deepEqual(apply(shore, changed(shore, moved)), moved);
});

test('changes of two fields in two tabs both stand', () => {
  const renamed = { ...shore, name: 'Palm Flat' };
  const lowered = { ...shore, below: 0.2 };
  assert.deepEqual(apply(renamed, changed(shore, lowered)), { ...renamed, below: 0.2 });
});
