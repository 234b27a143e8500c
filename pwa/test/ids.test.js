// Ids: version 7 UUIDs of RFC 9562.

import test from 'node:test';
import assert from 'node:assert/strict';
import { formatUUIDv7, uuidv7 } from '../app/data/ids.js';
import { parseStamp } from '../app/data/stamp.js';

test('the example of RFC 9562, appendix A.6 (from memory)', () => {
  // unix_ts_ms 0x017F22E279B0, which is 2022-02-22T19:22:22Z; rand_a 0xCC3; rand_b 0b01, 0x8C4DC0C0C07398F.
  const chance = Uint8Array.from([0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f]);
  assert.equal(formatUUIDv7(Date.UTC(2022, 1, 22, 19, 22, 22), 0xcc3, chance), '017f22e2-79b0-7cc3-98c4-dc0c0c07398f');
});

test('version and variant stand whatever chance gives', () => {
  for (const byte of [0x00, 0xff]) {
    assert.match(formatUUIDv7(1, byte && 0xfff, new Uint8Array(8).fill(byte)), /^00000000-0001-7[0f]{3}-[8b][0f]{3}-[0f]{12}$/);
  }
});

test('ids of one page rise: within a millisecond, past a full count, and when the clock is set back', () => {
  const start = Date.UTC(2200, 0, 1); // after any other id of this test
  let last = uuidv7(start);
  const seen = new Set([last]);
  for (let i = 0; i < 10000; i++) { // more than the 4,096 that one millisecond holds
    const id = uuidv7(i % 3 ? start : start - 86400000);
    assert.ok(id > last, `${id} after ${last}`);
    assert.match(id, /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    seen.add(id);
    last = id;
  }
  assert.equal(seen.size, 10001);
  assert.ok(parseInt(last.replaceAll('-', '').slice(0, 12), 16) - start < 10, 'the time in it stays near');
});

test('an id serves as a device', () => {
  assert.ok(parseStamp(`017f22e279b0-0000-${uuidv7()}`));
});
