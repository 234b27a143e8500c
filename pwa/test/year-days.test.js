// The days of a year and where they lie. That 2028 and 2000 are leap years and 1900 and
// 2100 are not, and that 1 January 2027 is a Friday, is the calendar's.

import test from 'node:test';
import assert from 'node:assert/strict';
import { fullMinutes, yearDays, yearGrid } from '../app/ui/plan/year-days.js';
import { dayBounds, isDay, isYear, span } from '../app/ui/plan/reckoned-days.js';

test('a year has its days, months and weekends', () => {
  for (const [year, count] of [['2027', 365], ['2028', 366], ['1900', 365], ['2000', 366], ['2100', 365]]) {
    assert.equal(yearDays(String(year), []).length, count, String(year));
  }
  const days = yearDays('2027', []);
  assert.deepEqual(days.slice(0, 4).map((day) => day.weekend), [false, true, true, false]); // Fri Sat Sun Mon
  assert.deepEqual([days[31].day, days[31].month, days[31].date], ['2027-02-01', 2, 1]);
});

test('minutes are summed by local day', () => {
  const window = (day, usableMinutes) => /** @type {any} */ ({ day, usableMinutes });
  const days = yearDays('2027', [window('2027-03-01', 50), window('2027-03-01', 45), window('2027-12-31', 200)]);
  assert.deepEqual(days.filter((day) => day.minutes).map((day) => [day.day, day.minutes]), [['2027-03-01', 95], ['2027-12-31', 200]]);
  assert.equal(fullMinutes(days), 210);
  assert.equal(fullMinutes(yearDays('2027', [])), 120);
});

test('every day is found again where it is drawn', () => {
  const grid = yearGrid({ width: 358, left: 40, top: 18, row: 48 });
  const days = yearDays('2028', []);
  for (const day of days) assert.equal(grid.dayAt(days, grid.x(day) + grid.cell / 2, grid.foot(day) - 10), day);
  // Beside the drawing, or on the 31st of a short month, the nearest of the month.
  assert.equal(grid.dayAt(days, 357, 18 + 48 + 5).day, '2028-02-29');
  assert.equal(grid.dayAt(days, -50, -50).day, '2028-01-01');
  assert.equal(grid.dayAt(days, 999, 9999).day, '2028-12-31');
});

test('what can be reckoned', () => {
  for (const day of ['1900-01-05', '2028-02-29', '2100-12-27']) assert.ok(isDay(day), day);
  for (const day of ['', '1900-01-04', '2100-12-28', '2027-02-29', '2027-13-01', '2027-1-1', 'x', '2027-01-01x']) assert.ok(!isDay(day), day);
  for (const year of ['1900', '2026', '2100']) assert.ok(isYear(year), year);
  for (const year of ['1899', '2101', '26', '']) assert.ok(!isYear(year), year);
  assert.deepEqual(span('2027-01-01', '2028-01-01'), { from: '2027-01-01', to: '2028-01-01' });
  assert.deepEqual(span('1900-01-01', '1901-01-01'), { from: '1900-01-04T00:00:00Z', to: '1901-01-01' });
  assert.deepEqual(span('2100-01-01', '2101-01-01'), { from: '2100-01-01', to: '2100-12-28T23:59:59Z' });
});

// From the tz database: New York changes on 8 March and 1 November 2026, Lord Howe by half
// an hour on 5 April 2026, Beirut at midnight on 29 March 2026; Apia left 30 December 2011
// out; Chatham lies 13:45 ahead of UTC in summer.
test('a local day is as long as its clocks make it', () => {
  const rows = [
    ['2026-03-08', 'America/New_York', 23, '2026-03-08T05:00:00.000Z'],
    ['2026-11-01', 'America/New_York', 25, '2026-11-01T04:00:00.000Z'],
    ['2026-11-02', 'America/New_York', 24, '2026-11-02T05:00:00.000Z'],
    ['2026-04-05', 'Australia/Lord_Howe', 24.5, '2026-04-04T13:00:00.000Z'],
    ['2026-03-29', 'Asia/Beirut', 23, '2026-03-28T22:00:00.000Z'],
    ['2011-12-30', 'Pacific/Apia', 0, '2011-12-30T10:00:00.000Z'],
    ['2026-01-15', 'Pacific/Chatham', 24, '2026-01-14T10:15:00.000Z'],
  ];
  for (const [day, zone, hours, start] of rows) {
    const bounds = dayBounds(day, zone);
    assert.equal((bounds.end - bounds.start) / 3_600_000, hours, `${day} ${zone}`);
    assert.equal(new Date(bounds.start).toISOString(), start, `${day} ${zone}`);
  }
});
