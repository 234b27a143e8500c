// Feet: the international foot is 0.3048 m exactly (NIST SP 811, appendix B.8). NOAA prints
// San Francisco's waters of 24 December 2026 in feet to a tenth; -1.8 ft is the lowest.

import test from 'node:test';
import assert from 'node:assert/strict';
import { height, typedHeight, waterHeight } from '../app/ui/parts/units.js';
import { metres } from '../app/ui/parts/when.js';
import { amountIn, showIn, unit } from '../app/text/unit.js';

test('metres, unless the phone was told otherwise', () => {
  showIn('metric');
  assert.equal(waterHeight(0.123), '0.12 m');
  assert.equal(height(0.4), '0.4 m');
  assert.equal(height(-0.35), '−0.35 m');
  assert.equal(typedHeight('0,85'), 0.85);
});

test('feet to a tenth, with the published foot', () => {
  showIn('imperial');
  assert.equal(unit(), 'ft');
  for (const [m, want] of /** @type {const} */ ([[0.3048, '1.0'], [3.048, '10.0'], [-0.54864, '−1.8'], [2.19456, '7.2'], [0, '0.0'], [-0.01, '0.0']])) assert.equal(metres(m), want);
  assert.equal(waterHeight(1.524), '5.0 ft');
  assert.equal(typedHeight('10'), 3.048);
  assert.equal(typedHeight('−1.8'), -0.549);
  for (const none of ['', 'a', '1..2', '12345']) assert.equal(typedHeight(none), undefined, none);
  showIn('metric');
});

test('amounts, with the published ounce, US fluid ounce and inch', () => {
  assert.equal(amountIn(250, 'g'), '250 g');
  showIn('imperial');
  // NIST SP 811, B.8: 1 oz (avoirdupois) is 28.34952 g, 1 fl oz (US) 29.57353 mL, 1 in 25.4 mm.
  for (const [value, name, want] of /** @type {const} */ ([[28.34952, 'g', '1 oz'], [283.4952, 'g', '10 oz'], [29.57353, 'mL', '1 US fl oz'], [254, 'mm', '10 in'], [30.48, 'm', '100 ft'], [200, 'm', '656 ft']])) {
    assert.equal(amountIn(value, name), want);
  }
  showIn('metric');
});
