// What stands beside the button that saves a find: what the rules on file say of it.

/** @param {number} value @param {string} unit */
const amount = (value, unit) => (unit === 'count' ? String(value) : unit === 'share' ? `${Math.round(value * 1000) / 10} %` : `${value} ${unit}`);

export const takes = {
  may: 'May we take it?',
  /** @type {Record<string, string>} */
  words: {
    forbidden: 'Forbidden by the rules on file', over: 'Over a limit on file', unchecked: 'Not checked: do not take', atLimit: 'At a limit on file', within: 'Within the rules on file',
    '': 'Not reckoned: no permission',
  },
  /** @type {Record<string, string>} */
  ours: { forbidden: 'Your own rules: leave it', over: 'Your own rules: too many', unchecked: 'Your own rules: not checked', atLimit: 'Your own rules: at the limit', within: '' },
  /** @param {number} taken @param {number} more this one @param {number} limit @param {string} unit */
  count: (taken, more, limit, unit) => `${amount(taken, unit)} taken + ${amount(more, unit)}; limit on file ${amount(limit, unit)}`,
  asks: 'The rules ask something: answer it',
  /** @param {number} n */
  lacks: (n) => (n === 1 ? 'One thing is not known yet' : `${n} things are not known yet`),
  record: 'Record what happened',
  recording: 'Recording it does not make it lawful.',
  /** @type {Record<string, string>} */
  marks: { forbidden: 'forbidden by the rules on file', over: 'over a limit on file', unchecked: 'not checked' },
  oursMark: 'against your own rules',
  /** @type {Record<string, string>} */
  putBack: {
    demanded: 'The rules on file want it put back: here and now, where it was, the same way up, every stone as it lay.',
    allowed: 'The rules on file allow putting it back: here and now, where it was, the same way up, every stone as it lay.',
    forbidden: 'The rules on file forbid putting it back once it was taken.',
    unknown: 'Whether it may be put back, the rules on file do not say. Ask the authority first.',
    '': 'Whether the rules on file allow putting it back is not reckoned yet.',
  },
  closed: {
    all: 'Closed.',
    /** @param {string} open */
    part: (open) => `Open only ${open}.`,
    maybe: 'May be closed.',
    rests: 'Your own rules: this shore rests.',
    some: 'Closed for',
    mark: 'closed',
    markPart: 'closed in part',
    /** @param {string} from @param {string} to */
    span: (from, to) => `${from} – ${to}`,
    /** @type {Record<string, string>} */
    unchecked: {
      waits: 'Closed days: not reckoned.',
      none: 'Closed days are not checked: no rules are on file for this shore.',
      stale: 'Closed days are not checked: the rules on file are overdue for a check.',
      unsure: 'Closed days are not checked: it is not sure which rules hold here.',
    },
    toRules: 'Rules on file',
  },
  wasPutBack: 'Record that it was put back',
  noRules: 'No current rules known for this shore: do not take. Ask the authority first.',
};
