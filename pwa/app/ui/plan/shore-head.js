// The shore that Plan is for, and the water now.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { level, metres } from '../parts/when.js';
import { heights } from './plan-state.js';
import { waterAt } from '../../data/water.js';
import { text } from '../../text/en.js';

/** @param {{shore: import('./shore-state.js').Shore, change: () => void}} props */
export function ShoreHead({ shore, change }) {
  const t = text.plan;
  const cut = shore.wayOff === null ? t.cutUnknown : t.cutAt(level(shore.wayOff));
  return html`<header class="shore-head">
    <h2>${shore.name}</h2>
    <button type="button" class="quiet" aria-label=${t.changeLabel} onClick=${change}>${t.change}</button>
    <p>${t.bareBelow(level(shore.below))} · ${cut}</p>
    <${WaterNow} />
  </header>`;
}

/** A rate under this, in metres an hour, reads as "about to turn". */
const SLACK = 0.03;

function WaterNow() {
  const now = useSignal(Date.now());
  useEffect(() => {
    const timer = setInterval(() => (now.value = Date.now()), 60_000);
    return () => clearInterval(timer);
  }, []);
  const water = heights.value && waterAt(heights.value, now.value);
  if (!water) return null;
  const { trends } = text.plan;
  const trend = Math.abs(water.rateMPerHour) < SLACK ? trends.turning : water.rateMPerHour > 0 ? trends.rising : trends.falling;
  return html`<p data-now>${text.plan.now(metres(water.heightM), trend)}</p>`;
}
