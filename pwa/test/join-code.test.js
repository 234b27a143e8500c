// What people make of an invitation. The alphabet is Douglas Crockford's base32 (no I, L, O
// and U), which server/code.go spells codes in; RFC 3986 has what a link's signs mean.

import test from 'node:test';
import assert from 'node:assert/strict';
import { kindOfDevice, readInvitation, slip } from '../app/ui/house/join-code.js';

const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const CODE = (ALPHABET + ALPHABET.slice(0, 8)).replace(/(.{5})(?!$)/g, '$1-');

test('an invitation is read from its link, a part of it, or alone', () => {
  const rows = {
    'a link': ['https://ledge.example/pair#' + CODE, CODE, ''],
    'a link with a name': [`https://ledge.example/pair#${CODE}&name=Ada%27s%20phone%20%26%20more`, CODE, 'Ada\'s phone & more'],
    'what stands behind #': [`#${CODE}&name=Ren%C3%A9`, CODE, 'René'],
    'a code': [CODE, CODE, ''],
    'a code with space around': [`  ${CODE}\n`, CODE, ''],
    'a link that was cut in the midst of a sign': [`#${CODE}&name=Ren%C3`, CODE, 'Ren%C3'],
    'a link with more than is known': [`#${CODE}&later=1&name=Jo`, CODE, 'Jo'],
    nothing: ['', '', ''],
  };
  for (const [row, [given, code, name]] of Object.entries(rows)) assert.deepEqual(readInvitation(given), { code, name }, row);
});

test('a slip is seen before the server counts it as a try', () => {
  assert.equal(CODE.length, 47);
  const good = [CODE, CODE.toLowerCase(), CODE.replaceAll('-', ''), CODE.replaceAll('-', ' '), CODE.replaceAll('1', 'I').replaceAll('0', 'o'), CODE.replaceAll('1', 'l')];
  for (const code of good) assert.equal(slip(code), undefined, code);
  assert.deepEqual(slip(CODE.slice(0, -1)), { length: 39 });
  assert.deepEqual(slip(CODE + 'A'), { length: 41 });
  assert.deepEqual(slip('U' + CODE.slice(1)), { sign: 'U' });
  assert.deepEqual(slip('é' + CODE.slice(1)), { sign: 'É' });
});

// Strings as browsers send them: MDN, "User-Agent" and "Browser detection using the user
// agent" (iPads since iPadOS 13 call themselves Macs), from memory.
test('a device is called what it is', () => {
  const rows = /** @type {[string, number, string][]} */ ([
    ['Mozilla/5.0 (iPhone; CPU iPhone OS 18_1 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.1 Mobile/15E148 Safari/604.1', 5, 'iphone'],
    ['Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.1 Safari/605.1.15', 5, 'ipad'],
    ['Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.1 Safari/605.1.15', 0, 'mac'],
    ['Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/130.0.0.0 Mobile Safari/537.36', 5, 'android'],
    ['Mozilla/5.0 (Windows NT 10.0; Win64; x64; rv:132.0) Gecko/20100101 Firefox/132.0', 0, 'windows'],
    ['Mozilla/5.0 (X11; Linux x86_64; rv:132.0) Gecko/20100101 Firefox/132.0', 0, 'linux'],
    ['', 0, 'other'],
  ]);
  for (const [agent, fingers, kind] of rows) assert.equal(kindOfDevice(agent, fingers), kind, agent);
});
