// What the rules on file say of a find at length, the page that asks before anything is
// touched, the party's tally, the limits on the slate.

import { takes } from './en-takes.js';

const { amount } = takes;

export const verdict = {
  waiting: 'The rules on file are not reckoned yet. Nothing is permitted until they are. Saving does not wait for it.',
  whom: 'Ask who is in charge here: the fishery or wildlife authority, the owner of the ground, the park or reserve if it is one.',
  askThem: 'Ask them',
  /** @param {string} kind */
  questions: (kind) => [
    `May ${kind} be taken on this shore, by hand, for a tank at home?`,
    'How much of it, of which size, on which days and at what hours?',
    'Is a licence needed, and is the shore closed for now?',
    'May it be put back once it was lifted?',
  ],
  unsure: 'this',
  missing: 'Not known',
  asks: 'The rules ask',
  yes: 'Yes',
  no: 'No',
  remembered: 'Your answers hold for this outing.',
  duties: 'What is to be done',
  limits: 'Limits',
  ours: 'Your own rules',
  oursWhy: 'Not the law: what this household has agreed on.',
  who: 'Who says so',
  /** @param {string} authority @param {string} ask */
  authority: (authority, ask) => `${authority}; ask: ${ask}.`,
  /** @param {string} source @param {string} day */
  source: (source, day) => (day ? `From: ${source}, of ${day}.` : `From: ${source}.`),
  /** @param {string} on @param {string} by */
  checked: (on, by) => `Checked on ${on} by ${by}.`,
  unchecked: 'Nobody has checked it.',
  stale: 'The check is overdue: it goes on forbidding and permits nothing.',
  unsureHere: 'It may not hold on this spot.',
  above: 'Their word and the signs on the shore stand above this page.',

  ask: {
    title: 'May we take it?',
    hint: 'Ask before anything is touched. Nothing is saved.',
    log: 'Log this find',
    again: 'Ask about another kind',
  },

  tally: {
    title: 'Taken, and the limits on file',
    waiting: 'Not reckoned yet.',
    none: 'No limit is on file for what was taken.',
    /** @param {number} taken @param {number} limit @param {string} unit */
    of: (taken, limit, unit) => `${amount(taken, unit)} taken; limit on file ${amount(limit, unit)}`,
    /** @param {string} name @param {number} taken @param {string} unit */
    each: (name, taken, unit) => `${name}: ${amount(taken, unit)}`,
  },
};
