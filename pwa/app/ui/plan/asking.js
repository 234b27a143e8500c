// One standing question to the core: what was kept is shown at once where it still
// answers, then the core is asked, and its answer is kept.

import { computed, effect, signal } from '@preact/signals';
import { catalogue, state } from '../../core.js';
import { keepAnswer, keptAnswer } from '../../data/answers.js';

/**
 * @template Answer
 * @typedef {object} Shown
 * @property {string} question as JSON
 * @property {Answer} answer
 * @property {string} [keptAt] when it was kept, if it is not from now
 */

/**
 * @template Question, Answer
 * @param {import('../../data/answers.js').Kind} kind
 * @param {object} how
 * @param {() => Question | undefined} how.question reads signals; undefined while nothing is asked
 * @param {(question: Question, show: (sofar: Answer) => void) => Promise<Answer>} how.ask
 * @param {(answer: Answer, was: Question, is: Question) => Answer | undefined} [how.fit] what
 *   a kept answer to another question says to this one; the same question always fits
 */
export function asking(kind, { question, ask, fit }) {
  const shown = signal(/** @type {Shown<Answer> | undefined} */ (undefined));
  const failure = signal(/** @type {import('../../core.js').CoreError | undefined} */ (undefined));
  const kept = signal(/** @type {import('../../data/answers.js').Kept | undefined} */ (undefined));
  const wanted = computed(() => {
    const asked = question();
    return asked && JSON.stringify(asked);
  });

  /** @param {string} wants @returns {Shown<Answer> | undefined} */
  const fromKept = (wants) => {
    const old = kept.value;
    if (old?.build !== BUILD) return undefined; // another version may have kept another form
    const answer = old.question === wants ? old.answer : fit?.(old.answer, JSON.parse(old.question), JSON.parse(wants));
    return answer && { question: wants, answer, keptAt: old.at };
  };

  effect(() => {
    const wants = wanted.value;
    const ready = state.value === 'ready' && catalogue.value !== 'coming';
    const known = wants && fromKept(wants);
    if (shown.peek()?.question !== wants || (shown.peek() === undefined && known)) {
      shown.value = known || undefined;
      failure.value = undefined;
    }
    if (wants && ready && (!shown.peek() || shown.peek()?.keptAt)) run(wants);
  });

  let running = '';
  /** @param {string} wants */
  async function run(wants) {
    if (running === wants) return;
    running = wants;
    /** @param {Answer} answer */
    const show = (answer) => {
      if (wanted.peek() === wants) shown.value = { question: wants, answer };
    };
    try {
      const answer = await ask(JSON.parse(wants), show);
      show(answer);
      const now = { build: BUILD, question: wants, answer, at: new Date().toISOString() };
      keepAnswer(kind, now);
      kept.value = now;
      failure.value = undefined;
    } catch (error) {
      if (wanted.peek() === wants) failure.value = /** @type {any} */ (error);
    }
    if (running === wants) running = '';
  }

  return {
    shown, failure,
    /** Reads what was kept, so that it is painted before the core is up. */
    async recall() {
      kept.value ??= await keptAnswer(kind);
    },
  };
}
