// Warns while the app is open: ten minutes before start back, at start back, at off by; by
// words, sound and shaking, again and again until somebody touches the button. A phone that
// sleeps warns nobody, which is why two alarms are asked for besides.

import { computed, effect, signal } from '@preact/signals';
import { looked, stage } from './now-state.js';
import { STAGES } from './now-limits.js';
import { underWay } from './outing-state.js';
import { heard, phoneRead, setPhone } from './phone-state.js';

/** From this rank on the page warns. */
const WARNS = STAGES.indexOf('near');
const AGAIN_MS = 4000;
const SHAKE = [500, 200, 500, 200, 900];

const rank = computed(() => (underWay.value && stage.value ? STAGES.indexOf(stage.value) : 0));

/** The stage that is warned of and that nobody has touched; undefined while all is calm. */
export const warning = computed(() => {
  if (!phoneRead.value || rank.value < WARNS) return undefined;
  const { outing, rank: upTo } = heard.value;
  return outing === underWay.value?.id && upTo >= rank.value ? undefined : STAGES[rank.value];
});

/** Somebody has touched it. */
export const hear = () => setPhone({ heard: { outing: underWay.peek()?.id ?? '', rank: rank.peek() } });

// Thunder that has passed lets the plan hold again: its own warnings come again too.
effect(() => {
  const { outing, rank: upTo } = heard.peek();
  if (looked.value && outing === underWay.value?.id && rank.value < upTo) setPhone({ heard: { outing, rank: rank.value } });
});

/**
 * untouched: browsers give no sound before a touch. none: this browser has none.
 * @typedef {'untouched' | 'on' | 'none'} Sound
 */
export const sound = signal(/** @type {Sound} */ ('untouched'));

/** @type {AudioContext | undefined} */
let audio;

/** Wakes the sound; works within a touch only. */
export async function wakeSound() {
  if (typeof AudioContext === 'undefined') return void (sound.value = 'none');
  audio ??= new AudioContext();
  audio.onstatechange = () => (sound.value = audio?.state === 'running' ? 'on' : 'untouched');
  await audio.resume().catch(() => {});
  audio.onstatechange(new Event('statechange'));
}

/** Sounds and shakes once. */
export function ring() {
  navigator.vibrate?.(SHAKE);
  if (!audio || audio.state !== 'running') return;
  // Two tones, thrice: a single low one is lost in surf.
  for (let i = 0; i < 6; i++) tone(i % 2 ? 1320 : 880, audio.currentTime + i * 0.28, 0.22);
}

/** @param {number} hertz @param {number} from seconds @param {number} length */
function tone(hertz, from, length) {
  const context = /** @type {AudioContext} */ (audio);
  const [source, volume] = [context.createOscillator(), context.createGain()];
  source.type = 'square';
  source.frequency.value = hertz;
  volume.gain.setValueAtTime(0.5, from);
  volume.gain.linearRampToValueAtTime(0, from + length);
  source.connect(volume).connect(context.destination);
  source.start(from);
  source.stop(from + length);
}

effect(() => {
  if (!underWay.value) return undefined;
  const touch = () => void wakeSound();
  addEventListener('pointerdown', touch);
  addEventListener('keydown', touch);
  return () => {
    removeEventListener('pointerdown', touch);
    removeEventListener('keydown', touch);
  };
});

effect(() => {
  if (!warning.value) return undefined;
  ring();
  const timer = setInterval(ring, AGAIN_MS);
  return () => clearInterval(timer);
});
