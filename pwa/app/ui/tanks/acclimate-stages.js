// An acclimation as it runs: its stages one after another, and where it stands at an instant.
// What is kept are instants, so that a reload, a restart or another phone shows the same.

/** @typedef {{minute: number, salinity: number, tempC: number, volumeL: number, mlMin: number, dropsMin: number}} Step */
/** @typedef {'prepare' | 'float' | 'over' | 'drip' | 'in'} Stage */
/**
 * What an event "acclimated" keeps as its plan. marks: when each stage began; stops: when the
 * drip stood still, [from, to], the last with null while it does; all RFC 3339.
 * @typedef {{way: 'match' | 'batch' | 'drip', hurry: boolean, floatMin: number, discard: boolean, steps: Step[], minutes: number, waterL: number, containerL: number, left: number,
 *   batch: null | {litres: number, salinityLow: number, salinityHigh: number, lowC: number, highC: number}, water: string, bag: {salinity: number | null, tempC: number, volumeL: number},
 *   tank: {salinity: number | null, tempC: number}, to: string[], marks: Partial<Record<Stage, string>>, stops: [string, string | null][]}} Kept
 */

/**
 * The stages of a plan, in order.
 * @param {Pick<Kept, 'way' | 'hurry' | 'floatMin'>} kept
 * @returns {Stage[]}
 */
export function stagesOf({ way, hurry, floatMin }) {
  /** @type {Stage[]} */
  const stages = [];
  if (way === 'batch' || hurry) stages.push('prepare');
  // Clean water like that of the bag is at its temperature: in a hurry nobody waits for the float.
  if (hurry && way !== 'batch') stages.push('over');
  if (floatMin > 0 && way !== 'batch') stages.push('float');
  if (way === 'drip') stages.push('drip');
  stages.push('in');
  return stages;
}

/**
 * Under what a stage is put into words: in a hurry it is no bag that floats.
 * @param {Kept} kept
 * @param {Stage} stage
 */
export const worded = (kept, stage) => (stage === 'float' && kept.hurry ? 'even' : stage);

/**
 * How long a stage has run, in milliseconds, without the time that the drip stood still.
 * @param {Kept} kept
 * @param {Stage} stage
 * @param {number} nowMs
 */
export function runMs(kept, stage, nowMs) {
  const began = Date.parse(kept.marks[stage] ?? '');
  if (Number.isNaN(began)) return 0;
  let ms = nowMs - began;
  if (stage === 'drip') for (const [from, to] of kept.stops) ms -= Math.max(0, (to ? Date.parse(to) : nowMs) - Math.max(began, Date.parse(from)));
  return Math.max(0, ms);
}

/** @param {Kept} kept */
export const stopped = (kept) => kept.stops.some(([, to]) => to === null);

/**
 * Where it stands.
 * @param {Kept} kept
 * @param {number} nowMs
 * @returns {{stage: Stage | null, next: Stage | null, elapsedMs: number, dueMs: number | null, step: number, late: boolean}}
 *   stage: null before it has begun; dueMs: until the next step or the end of the stage, null where it ends when one is ready; step: the row of the table
 */
export function standing(kept, nowMs) {
  const stages = stagesOf(kept);
  const begun = stages.filter((stage) => kept.marks[stage]);
  const stage = begun.length ? begun[begun.length - 1] : null;
  const next = stages[stage ? stages.indexOf(stage) + 1 : 0] ?? null;
  const elapsedMs = stage ? runMs(kept, stage, nowMs) : 0;
  let [step, dueMs] = [0, /** @type {number | null} */ (null)];
  if (stage === 'float') dueMs = kept.floatMin * 60_000 - elapsedMs;
  if (stage === 'drip') {
    kept.steps.forEach(({ minute }, i) => {
      if (minute * 60_000 <= elapsedMs) step = i;
    });
    dueMs = (kept.steps[step + 1]?.minute ?? kept.minutes) * 60_000 - elapsedMs;
  }
  return { stage, next, elapsedMs, dueMs, step, late: dueMs !== null && dueMs <= 0 };
}

/**
 * When each row of the table comes, as it runs now; while the drip stands still, as if it ran on at once.
 * @param {Kept} kept
 * @param {number} nowMs
 * @returns {number[]} milliseconds since 1970; [] before the drip has begun
 */
export function stepTimes(kept, nowMs) {
  const began = Date.parse(kept.marks.drip ?? '');
  if (Number.isNaN(began)) return [];
  return kept.steps.map(({ minute }) => {
    let at = began + minute * 60_000;
    for (const [from, to] of kept.stops) if (Date.parse(from) <= at) at += (to ? Date.parse(to) : Math.max(nowMs, Date.parse(from))) - Date.parse(from);
    return at;
  });
}

/**
 * What the event keeps of a plan of the core and what it was asked.
 * @param {any} plan the core's answer
 * @param {boolean} discard which of its runs
 * @param {Pick<Kept, 'bag' | 'tank' | 'to'>} sides
 * @returns {Kept}
 */
export function keptOf(plan, discard, { bag, tank, to }) {
  const run = plan.drips.find((/** @type {any} */ one) => one.discard === discard) ?? plan.drips[0];
  return {
    way: plan.way, hurry: Boolean(plan.hurry), floatMin: plan.floatMin, discard: run?.discard ?? false, steps: run?.steps ?? [], minutes: run?.minutes ?? 0, waterL: run?.waterL ?? 0,
    containerL: run?.containerL ?? 0, left: run?.left ?? plan.gap, batch: plan.batch ?? null, water: plan.water, bag, tank, to, marks: {}, stops: [],
  };
}

/**
 * "1:05:09", "12:30".
 * @param {number} ms
 */
export function countdown(ms) {
  const s = Math.max(0, Math.ceil(ms / 1000));
  const two = (/** @type {number} */ x) => String(x).padStart(2, '0');
  return s >= 3600 ? `${Math.floor(s / 3600)}:${two(Math.floor(s / 60) % 60)}:${two(s % 60)}` : `${Math.floor(s / 60)}:${two(s % 60)}`;
}
