// The time that the pages show, to the minute. A phone that wakes up is told at once.

import { signal } from '@preact/signals';

const MINUTE_MS = 60_000;

/** Milliseconds since 1970. */
export const now = signal(Date.now());

const tick = () => (now.value = Date.now());
setInterval(tick, MINUTE_MS);
document.addEventListener('visibilitychange', tick);
addEventListener('pageshow', tick);
