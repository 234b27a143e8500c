// The message to friends. Los Angeles is 8 hours behind UTC in winter, Auckland 13 ahead in
// summer.

import test from 'node:test';
import assert from 'node:assert/strict';
import { message } from '../app/ui/plan/share.js';

const one = {
  shore: 'a', basis: '{}', name: 'Heron Ledge', zone: 'America/Los_Angeles', day: '2026-12-12',
  usableFrom: '2026-12-12T14:48:10Z', usableTo: '2026-12-12T16:55:50Z', lowTime: '2026-12-12T15:50:40Z', lowHeight: -0.12,
  startBack: '2026-12-12T16:20:59Z', offBy: '2026-12-12T16:40:59Z', dark: false,
};

test('a message says each time on the shore’s clock', () => {
  const words = message([one]);
  for (const part of ['Does this suit you?', 'Heron Ledge', 'America/Los_Angeles', 'Sat 12 Dec 2026', '06:48 – 08:55',
    'low water −0.12 m at 07:51', 'start back 08:20', 'off the rocks by 08:40', 'predicted from sun and moon only']) {
    assert.ok(words.includes(part), part);
  }
});

test('several mornings ask which; another shore is named with its own zone', () => {
  const words = message([one, { ...one, day: '2026-12-13' }, { ...one, shore: 'b', name: 'Kea Reef', zone: 'Pacific/Auckland', day: '2026-12-13', dark: true }]);
  assert.ok(words.startsWith('Which of these suits you?'));
  assert.equal(words.split('Heron Ledge').length - 1, 1, 'a shore is named once');
  assert.ok(words.includes('Pacific/Auckland'));
  assert.ok(words.includes('bare 03:48 – 05:55, a part of it dark'));
});
