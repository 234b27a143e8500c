// The QR code of a lid. Rows are the length in bytes, the modules of a side and the SHA-256 of
// the rows that rsc.io/qr v0.2.0 makes of the same text at level M (the library of the server's
// invitations); how many bytes each version holds is table 7 of ISO/IEC 18004:2015.

import test from 'node:test';
import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { codeRows } from '../app/ui/tanks/lid-code.js';

const text = (/** @type {number} */ bytes) => 'https://a.example/tanks/tank/0199-'.repeat(9).slice(0, bytes);

const drawn = /** @type {[number, number, string][]} */ ([
  [1, 21, '1391567a70f543125a12de8a6e6c60d68a81102b5513c04b000a2c5b6c3a677d'],
  [14, 21, '28045e09051ba638837c7a7adfd2580034ce24e57ba078314991247024f101fd'],
  [15, 25, '9fbe753ec5e5436a6baf1754b0068a512f35578dbd3dd4331f7d66adf2130cfe'],
  [26, 25, '0353436f7391b3f175d062b3237648a3c4a014cf23de7dca944a4b4111805dbc'],
  [27, 29, '9054b525c182f26fa9608093b509c7ff3562134da5798a150a0da175fc338e9d'],
  [42, 29, '163476462abdd6858f3ed8bdd70c11b06c0bd75f0cbde3544807d55e311226bf'],
  [43, 33, '76efdadd7e113880766db8df571f02d1910a8727c02cf094d89d4c0eb424d2f3'],
  [62, 33, 'dae3bc0194c4c028a4df563056d5ff66d04810bc9446144cc3c950acb8fad7f3'],
  [63, 37, '92ac1f0510c1f3069eaae745228337feeb988a5f1280395dffbb2015ad0d22d7'],
  [84, 37, '2398976d244b4c97c2797b23707b775c344e66cc08e6d0a23ec791003719d263'],
  [85, 41, '586a30bf02ca1c1abfcc168ca86eb1a81fc6da0c90d515ea4d4fc911de8806c1'],
  [106, 41, 'fe9a081442469bed1c8201ec58ca7cc8e923968e68973d97594bf2435fb85395'],
  [107, 45, '76cb2cbee673bcfa55833edb349aaaaf33f1bb4c7d7562654bdfe236f18e38d7'],
  [122, 45, 'e10ea374b426679ce7cf97399031ab50a03263ccf2e123f40e67cbd7430e15f9'],
  [123, 49, 'a70677d49d8fd0d467cc009ef47b9f39c0838de576f5a22a3bb2eb72dc031e4f'],
  [152, 49, '929487364e383be24327262803c91b4606de8f82ea47c2c821e4cf3839893f66'],
  [153, 53, 'a039340c056509acc31c89b91c845959a60f0f4334aa6b39e49a240b6dceddf3'],
  [180, 53, 'a9785508d535c3c2d68dd48ebfae0ab709b93cbef0da4cb522a7f0ee3af630eb'],
]);

test('module by module as another library draws it', () => {
  for (const [bytes, side, sum] of drawn) {
    const rows = codeRows(text(bytes));
    assert.ok(rows, `${bytes} bytes`);
    assert.equal(rows.length, side, `${bytes} bytes`);
    assert.equal(createHash('sha256').update(rows.join('\n')).digest('hex'), sum, `${bytes} bytes`);
  }
});

test('a text of letters that take two bytes is counted in bytes', () => {
  assert.equal(codeRows('é'.repeat(7))?.length, 21);
  assert.equal(codeRows('é'.repeat(8))?.length, 25);
});

test('more than fits is refused and not cut', () => assert.equal(codeRows(text(181)), undefined));
