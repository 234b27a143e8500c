// How near the limits are, and what the kept heights say, against a tide known by arithmetic.

import test from 'node:test';
import assert from 'node:assert/strict';
import { isDark, lateBy, minutesTo, nextTurn, risesTo, stageOf, windowNow } from '../app/ui/shore/now-limits.js';
import { lateness } from '../app/data/lateness.js';
import { blocksOf, figuresOf, spread, staffFor } from '../app/ui/shore/staff-marks.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const T0 = Date.parse('2026-12-12T12:00:00Z');
const at = (ms) => new Date(ms).toISOString();
const PERIOD = 745 * MINUTE; // of a tide 1 - cos with a low at T0

const heights = {
  shore: '', basis: '', startMs: T0 - 12 * HOUR, stepMs: 10 * MINUTE,
  mm: Int32Array.from({ length: 6 * 72 }, (_, i) => Math.round(1000 * (1 - Math.cos((2 * Math.PI * (i * 10 * MINUTE - 12 * HOUR)) / PERIOD)))),
};
/** When 1 - cos reaches a level after a low, by the inverse. */
const after = (level) => (Math.acos(1 - level) / (2 * Math.PI)) * PERIOD;

test('the stages', () => {
  const limits = { startBackMs: T0, offByMs: T0 + 20 * MINUTE };
  for (const [minutes, stage] of [[-31, 'calm'], [-30, 'soon'], [-10.01, 'soon'], [-10, 'near'], [-0.01, 'near'], [0, 'back'], [19.99, 'back'], [20, 'off'], [500, 'off']]) {
    assert.equal(stageOf(limits, T0 + minutes * MINUTE), stage, `${minutes}`);
  }
  assert.equal(minutesTo(T0, T0 - 90_000), 1);
  assert.equal(minutesTo(T0, T0), 0);
});

test('when the water rises to a level', () => {
  let compared = 0;
  for (let level = 0.05; level < 1.95; level += 0.05) {
    const found = risesTo(heights, level, T0);
    // The kept millimetres err by 0.6 mm: over the slope, half a minute at the flattest of these.
    assert.ok(Math.abs(found - (T0 + after(level))) < MINUTE / 2, `${level}`);
    compared++;
  }
  assert.equal(compared, 38);
  assert.equal(risesTo(heights, 0.5, T0 - 3 * HOUR), T0 - 3 * HOUR, 'it stands there already');
  assert.equal(risesTo(heights, 2.1, T0), Infinity, 'it never comes so high');
  assert.equal(risesTo(heights, 2.1, T0 + 50 * HOUR), undefined, 'a day ahead is not kept');
  assert.equal(risesTo(undefined, 1, T0), undefined);
  assert.equal(risesTo(heights, 1, T0 - 13 * HOUR), undefined, 'before what is kept');
});

test('how late the sea comes to a marker rock', () => {
  const due = T0 + after(0.6);
  for (const late of [-40, -18, 0, 7, 55]) assert.equal(lateBy(heights, 0.6, due + late * MINUTE), late);
  assert.equal(lateBy(heights, 0.6, T0 - after(0.6) + 12 * MINUTE), 12, 'on the ebb, the falling crossing counts');
  assert.equal(lateBy(heights, 3, due), null);
  assert.equal(lateBy(undefined, 0.6, due), null);
});

test('the next low and high water', () => {
  assert.ok(Math.abs(nextTurn(heights, T0 - 3 * HOUR, 'low').ms - T0) < MINUTE);
  assert.ok(Math.abs(nextTurn(heights, T0 + MINUTE, 'low').ms - (T0 + PERIOD)) < MINUTE);
  assert.ok(Math.abs(nextTurn(heights, T0, 'high').heightM - 2) < 0.001);
  assert.equal(nextTurn(heights, T0 + 57 * HOUR, 'low'), undefined);
});

test('which window is the one of now', () => {
  const w = (day, from, off) => ({ day, usableFrom: at(T0 + from * HOUR), low: { time: at(T0 + (from + 1) * HOUR), height: 0 }, startBack: at(T0 + (off - 0.3) * HOUR), offBy: at(T0 + off * HOUR) });
  const list = [w('13', 24, 26), w('12', 0, 2), w('14', 49, 51)];
  for (const [name, today, hour, now, next, over] of [
    ['before it, the same day', '12', -5, '12', '13', false], ['the day before', '11', -14, undefined, '12', false],
    ['in it, past midnight', '11', 1, '12', '13', false], ['off by has just passed', '12', 2.9, '12', '13', false],
    ['and an hour ago', '12', 3, undefined, '13', true], ['after all of them', '15', 90, undefined, undefined, false],
  ]) {
    const found = windowNow(list, today, T0 + hour * HOUR);
    assert.deepEqual([found.now?.day, found.next?.day, found.over], [now, next, over], name);
  }
});

test('dark is said only where the light is known', () => {
  const [span, lit] = [{ from: at(T0), to: at(T0 + 24 * HOUR) }, [{ from: at(T0 + 6 * HOUR), to: at(T0 + 15 * HOUR) }]];
  for (const [hour, dark] of [[-1, false], [1, true], [6, false], [14.9, false], [15, true], [24, false]]) assert.equal(isDark(lit, span, T0 + hour * HOUR), dark, `${hour}`);
});

test('usually so much late: the median, of three visits at least', () => {
  const visit = (shore, ...late) => ({ deleted: false, fields: { shore, ...Object.fromEntries(late.map((lateMin, i) => [`higher/${i}`, { lateMin }])) } });
  const of = (...visits) => lateness(visits, 'a');
  assert.equal(of(visit('a', 18), visit('a', 20)), undefined);
  assert.deepEqual(of(visit('a', 18), visit('a', 20), visit('a', 4)), { visits: 3, lateMin: 18 });
  assert.deepEqual(of(visit('a', 18), visit('a', 20), visit('a', 4), visit('a', 30), visit('b', 90), visit('a', null), visit('a')), { visits: 4, lateMin: 19 });
  assert.deepEqual(of(visit('a', -10, -12, -50), visit('a', -8), visit('a', -20)), { visits: 3, lateMin: -12 }, 'a visit counts once');
  assert.equal(of(visit('a', 18), visit('a', 20), { ...visit('a', 4), deleted: true }), undefined);
});

test('a staff is divided in whole blocks, alternating through zero', () => {
  for (const [heights, block] of [[[0.1, 2], 0.1], [[-0.5, 4], 0.2], [[-0.2, 12.4], 0.5], [[0, 0], 0.1]]) {
    const staff = staffFor(heights);
    assert.equal(staff.block, block, `${heights}`);
    const blocks = blocksOf(staff);
    assert.ok(blocks[0].from <= Math.min(...heights) && blocks.at(-1).to >= Math.max(...heights));
    blocks.forEach((one, i) => {
      if (i) assert.ok(one.from === blocks[i - 1].to && one.filled !== blocks[i - 1].filled);
      if (one.from === 0) assert.equal(one.filled, true);
    });
    assert.equal(blocks.at(-1).to, staff.top);
  }
  assert.deepEqual(figuresOf({ bottom: -0.3, top: 1.1 }, 100), [0, 0.5, 1]);
});

test('labels do not cover each other', () => {
  for (const [wanted, want] of [[[10, 50, 100], [10, 50, 100]], [[10, 12, 14], [10, 34, 58]], [[90, 95, 100], [52, 76, 100]], [[-20, 300], [0, 100]]]) {
    assert.deepEqual(spread(wanted, 24, 0, 100), want);
  }
});
