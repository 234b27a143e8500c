// Instants and days in words. Offsets are those of the tz database: Los Angeles is 8 hours
// behind UTC in winter and 7 in summer, Auckland 13 and 12 ahead, Kathmandu 5:45 ahead.

import test from 'node:test';
import assert from 'node:assert/strict';
import { addDays, clock, dayName, dayAndClock, duration, knowsZone, level, localDay, metres, nearestClock } from '../app/ui/parts/when.js';

test('a clock is the shore’s', () => {
  const rows = [
    ['2026-12-12T14:48:00Z', 'America/Los_Angeles', '06:48'],
    ['2026-07-12T14:48:00Z', 'America/Los_Angeles', '07:48'],
    ['2026-12-12T11:00:00Z', 'Pacific/Auckland', '00:00'],
    ['2026-12-12T18:15:00Z', 'Asia/Kathmandu', '00:00'],
    ['2026-12-12T14:48:59Z', 'UTC', '14:48'],
  ];
  for (const [instant, zone, want] of rows) assert.equal(clock(instant, zone), want, `${instant} ${zone}`);
  assert.equal(dayAndClock('2026-12-12T14:48:00Z', 'America/Los_Angeles'), '12 Dec, 06:48');
});

test('an unknown zone falls back to UTC, and can be told', () => {
  assert.equal(knowsZone('Nowhere/Reef'), false);
  assert.equal(knowsZone('Europe/Oslo'), true);
  assert.equal(clock('2026-12-12T14:48:00Z', 'Nowhere/Reef'), '14:48');
});

test('a local day is the shore’s', () => {
  assert.equal(localDay(Date.parse('2026-12-12T07:59:59Z'), 'America/Los_Angeles'), '2026-12-11');
  assert.equal(localDay(Date.parse('2026-12-12T08:00:00Z'), 'America/Los_Angeles'), '2026-12-12');
  assert.equal(localDay(Date.parse('1999-12-31T11:00:00Z'), 'Pacific/Auckland'), '2000-01-01');
});

test('days are counted by the Gregorian calendar', () => {
  assert.equal(addDays('2100-02-28', 1), '2100-03-01'); // 2100 is no leap year
  assert.equal(addDays('2000-02-28', 1), '2000-02-29');
  assert.equal(addDays('1900-01-01', -1), '1899-12-31');
  assert.equal(addDays('2026-12-25', 31), '2027-01-25');
});

test('a day names its year where it is another', () => {
  assert.equal(dayName('2026-12-12', '2026-11-25'), 'Sat 12 Dec'); // a Saturday by the calendar
  assert.equal(dayName('2027-12-12', '2026-11-25'), 'Sun 12 Dec 2027');
});

test('minutes and metres', () => {
  assert.equal(duration(127), '2 h 07');
  assert.equal(duration(59), '59 min');
  assert.equal(duration(60), '1 h 00');
  assert.equal(metres(0.4), '0.40');
  assert.equal(metres(-0.123), '−0.12');
  assert.equal(metres(-0.001), '0.00');
  assert.equal(level(0.4), '0.4');
  assert.equal(level(-0.35), '−0.35');
});

// NOAA prints San Francisco's waters of 24 December 2026 at 00:19 and 17:42; the core has
// them at 08:18:53 and 01:41:34 UTC.
test('a water is told at the nearest minute', () => {
  assert.equal(nearestClock('2026-12-24T08:18:53Z', 'America/Los_Angeles'), '00:19');
  assert.equal(nearestClock('2026-12-25T01:41:34Z', 'America/Los_Angeles'), '17:42');
  assert.equal(nearestClock('2026-12-24T12:27:16Z', 'America/Los_Angeles'), '04:27');
});
