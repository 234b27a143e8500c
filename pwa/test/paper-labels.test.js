// Labels: where they lie on their sheets, and what they may say. Sizes of paper: ISO 216 and
// ANSI/ASME Y14.1. Days and lots are worked by hand.

import test from 'node:test';
import assert from 'node:assert/strict';
import { GRIDS, gridWrong, LEAST, PAPERS, sheetsOf } from '../app/ui/tanks/label-grid.js';
import { factsOf, lineOf, lotCode } from '../app/ui/tanks/label-facts.js';
import { daysBetween } from '../app/ui/parts/when.js';

test('every sheet to choose from lies within its paper, and lies in its middle', () => {
  assert.deepEqual(PAPERS, { a4: { width: 210, height: 297 }, letter: { width: 215.9, height: 279.4 } });
  assert.ok(Object.keys(GRIDS).length >= 7);
  for (const [name, grid] of Object.entries(GRIDS)) {
    assert.equal(gridWrong(grid), undefined, name);
    const { width, height } = PAPERS[grid.paper];
    const right = width - grid.left - grid.columns * grid.width - (grid.columns - 1) * grid.gapX;
    const bottom = height - grid.top - grid.rows * grid.height - (grid.rows - 1) * grid.gapY;
    assert.ok(Math.abs(right - grid.left) < 0.06, `${name}: ${right} on the right`);
    assert.ok(Math.abs(bottom - grid.top) < 0.06, `${name}: ${bottom} at the bottom`);
  }
});

test('an own sheet is measured', () => {
  const fine = { paper: /** @type {const} */ ('a4'), columns: 2, rows: 5, width: 90, height: 52, left: 15, top: 18.5, gapX: 0, gapY: 0 };
  const rows = /** @type {[Partial<typeof fine>, string, string][]} */ ([
    [{ columns: 0 }, 'columns', 'number'], [{ columns: 1.5 }, 'columns', 'number'], [{ rows: 11 }, 'rows', 'number'], [{ left: -1 }, 'left', 'number'],
    [{ gapY: NaN }, 'gapY', 'number'], [{ width: LEAST.width - 0.1 }, 'width', 'small'], [{ height: LEAST.height - 0.1 }, 'height', 'small'],
    [{ columns: 3 }, 'columns', 'wide'], [{ gapX: 15.1 }, 'columns', 'wide'], [{ rows: 6 }, 'rows', 'high'], [{ top: 37.1 }, 'rows', 'high'],
  ]);
  assert.equal(gridWrong(fine), undefined);
  assert.equal(gridWrong({ ...fine, gapX: 15, top: 37 }), undefined, 'to the edge');
  for (const [change, part, why] of rows) assert.deepEqual(gridWrong({ ...fine, ...change }), { part, why }, JSON.stringify(change));
});

test('labels go row by row, after the places that are used, on to the next sheet', () => {
  const grid = GRIDS['a4-24'];
  const [first, second, ...more] = sheetsOf(grid, ['a', 'b', 'c', 'd'], 22);
  assert.deepEqual(first, [{ label: 'a', x: 70, y: 259.5 }, { label: 'b', x: 140, y: 259.5 }]);
  assert.deepEqual(second, [{ label: 'c', x: 0, y: 0.5 }, { label: 'd', x: 70, y: 0.5 }]);
  assert.equal(more.length, 0);
  assert.deepEqual(sheetsOf(grid, []), []);
  // No two of a hundred overlap, on any sheet.
  for (const [name, of] of Object.entries(GRIDS)) {
    for (const sheet of sheetsOf(of, Array.from({ length: 100 }, (_, i) => i), 3)) {
      for (const [i, a] of sheet.entries()) for (const b of sheet.slice(i + 1)) assert.ok(Math.abs(a.x - b.x) > of.width - 0.011 || Math.abs(a.y - b.y) > of.height - 0.011, `${name}: ${a.label} and ${b.label}`);
    }
  }
});

test('a lot is six letters of chance, none of which is taken for another', () => {
  assert.equal(lotCode('01990000-0000-7000-8000-000000000000'), '000000');
  assert.equal(lotCode('01990000-0000-7000-8000-00000000001f'), '00000Z'); // 31
  assert.equal(lotCode('01990000-0000-7000-8000-000000000020'), '000010'); // 32
  assert.match(lotCode('01990000-0000-7000-8000-0000ffffffff'), /^[0-9A-HJKMNP-TV-Z]{6}$/);
});

const day = (/** @type {number} */ n) => `2026-11-${String(n).padStart(2, '0')}T10:00:00Z`;

test('a fragment has the days of its lot until it was parted, and its own after', () => {
  const specimens = [{ id: 'lot' }, { id: 'part', lot: 'lot' }, { id: 'crumb' }];
  const events = [
    { id: '1', arrived: { at: day(1), of: 'specimen/lot' } },
    { id: '2', cleared: { at: day(15), of: 'specimen/lot' } },
    { id: '3', parted: { at: day(16), of: 'specimen/lot', into: 'part' } },
    { id: '4', parted: { at: day(17), of: 'specimen/part', into: 'crumb' } },
    { id: '5', cleared: { at: day(20), of: 'specimen/lot' } }, // after they were parted: not theirs
    { id: '6', gone: { at: day(18), of: 'specimen/crumb', how: 'given away', to: 'Ms Reed' } },
  ];
  const book = { specimens, events, zone: 'Europe/London', today: '2026-11-21' };
  assert.deepEqual(lineOf('crumb', specimens, events), ['crumb', 'part', 'lot']);
  assert.deepEqual(factsOf('crumb', book), { lot: 'lot', line: ['crumb', 'part', 'lot'], arrived: '2026-11-01', cleared: '2026-11-15', left: '2026-11-18', days: 17, to: 'Ms Reed' });
  assert.deepEqual(factsOf('lot', book), { lot: 'lot', line: ['lot'], arrived: '2026-11-01', cleared: '2026-11-20', left: undefined, days: 20, to: '' });
  assert.equal(factsOf('nobody', book).arrived, undefined);
  // One that was parted from itself, by a mistake, ends all the same.
  assert.deepEqual(lineOf('a', [{ id: 'a', lot: 'b' }, { id: 'b', lot: 'a' }], []), ['a', 'b']);
});

test('days between count over a change of the clocks', () => {
  assert.equal(daysBetween('2026-10-24', '2026-10-26'), 2);
  assert.equal(daysBetween('2026-02-27', '2026-03-01'), 2);
});
