// The form of a shore: what people write, what is made of it, what is refused.

import test from 'node:test';
import assert from 'node:assert/strict';
import { bounds, empty, number, read, write } from '../app/ui/plan/shore-fields.js';

const station = {
  id: 'noaa/9414290', name: 'San Francisco', place: 'California', country: 'United States', lat: 37.8063, lon: -122.4659,
  zone: 'America/Los_Angeles', datum: 'MLLW', source: 'NOAA CO-OPS', release: '2026-09-24',
};
const filled = { ...empty, below: '0.3', zone: station.zone };

test('numbers as people write them', () => {
  const rows = [
    ['0.4', 0.4], ['0,4', 0.4], [' 1 ', 1], ['.5', 0.5], [',5', 0.5], ['2.', 2], ['+0.3', 0.3],
    ['-0.2', -0.2], ['−0,2', -0.2], ['–0.2', -0.2], ['-0', 0],
    ['', undefined], ['x', undefined], ['1.2.3', undefined], ['1e3', undefined], ['0.4 m', undefined], ['--1', undefined],
    ['NaN', undefined], ['Infinity', undefined], ['12345', undefined], ['0x10', undefined], ['.', undefined], ['-', undefined],
  ];
  for (const [written, want] of rows) assert.ok(Object.is(number(written), want), `${JSON.stringify(written)}: ${number(written)}`);
});

test('the least that is needed', () => {
  const { shore, wrong } = read(filled, station, 'id');
  assert.deepEqual(wrong, {});
  assert.deepEqual(shore, {
    id: 'id', name: 'San Francisco', station: 'noaa/9414290', stationName: 'San Francisco', place: 'California', source: 'NOAA CO-OPS',
    datum: 'MLLW', release: '2026-09-24', zone: 'America/Los_Angeles', lat: 37.8063, lon: -122.4659, distanceKm: null, below: 0.3, wayOff: null,
    cutOff: true, margin: 20, walkOut: 15, travel: 0, escape: '', swellLimit: null, wayIn: '', wayOut: '', marker: null, night: null, differences: null,
  });
});

test('each field is bounded and says so itself', () => {
  for (const [field, [least, most]] of Object.entries(bounds)) {
    const other = { lat: 'lon', lon: 'lat', markerHeight: 'markerWhat' }[field];
    const given = (value) => read({ ...filled, ...(other ? { [other]: '1' } : {}), [field]: String(value) }, station, 'id');
    for (const value of [least, most]) assert.deepEqual(given(value).wrong, {}, `${field} ${value}`);
    for (const value of [least - 1, most + 1, 'x']) {
      assert.deepEqual(Object.keys(given(value).wrong), [field], `${field} ${value}`);
      assert.ok(given(value).wrong[field].length > 10);
      assert.equal(given(value).shore, undefined);
    }
  }
});

test('what else is refused', () => {
  const rows = [
    ['no station', filled, undefined, 'station'],
    ['no height', { ...filled, below: ' ' }, station, 'below'],
    ['no margin', { ...filled, margin: '' }, station, 'margin'],
    ['half a minute', { ...filled, walkOut: '1.5' }, station, 'walkOut'],
    ['latitude alone', { ...filled, lat: '37' }, station, 'lon'],
    ['longitude alone', { ...filled, lon: '-122' }, station, 'lat'],
    ['a marker rock without its height', { ...filled, markerWhat: 'the flat rock' }, station, 'markerHeight'],
    ['the height of no rock', { ...filled, markerHeight: '0.6' }, station, 'markerWhat'],
    ['no such zone', { ...filled, zone: 'Nowhere/Reef' }, station, 'zone'],
    ['a name too long', { ...filled, name: 'x'.repeat(81) }, station, 'name'],
    ['a note too long', { ...filled, escape: 'x'.repeat(1001) }, station, 'escape'],
  ];
  for (const [name, written, of, field] of rows) assert.deepEqual(Object.keys(read(written, of, 'id').wrong), [field], name);
});

test('a shore is written into the form and read from it unchanged', () => {
  const shore = {
    id: 'id', name: 'Heron Ledge', station: station.id, stationName: station.name, place: station.place, source: station.source, datum: 'MLLW',
    release: station.release, zone: 'America/Tijuana', lat: 37.9, lon: -122.5, distanceKm: 10.8, below: -0.25, wayOff: 0, cutOff: false,
    margin: 0, walkOut: 25, travel: 40, escape: 'steps', swellLimit: 1.5, wayIn: 'in', wayOut: 'out', marker: { what: 'the flat rock', heightM: 0.6 }, night: 'forbidden',
    differences: { minutes: [-5, 20], heights: [0, -0.1], heightsAre: 'metres' },
  };
  assert.deepEqual(read(write(shore), station, 'id', shore).shore, shore);
  const plain = { ...shore, lat: station.lat, lon: station.lon, distanceKm: null, differences: null, wayOff: null, swellLimit: null };
  assert.deepEqual(read(write(plain), station, 'id', plain).shore, plain);
});

test('the core not being there, a changed note leaves the distance', () => {
  const before = { ...read(filled, station, 'id').shore, lat: 38, lon: -122.5, distanceKm: 21.7 };
  const stub = { ...station, lat: before.lat, lon: before.lon, stub: true };
  assert.deepEqual(read({ ...write(before), escape: 'steps' }, stub, 'id', before).shore, { ...before, escape: 'steps' });
});
