// What the rules on file say of a find at length, the page that asks before anything is
// touched, the party's tally, the limits on the slate.

export const verdict = {
  title: 'What the rules on file say',
  counted: 'Counted with it',
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
  whichShores: 'Say for which shores the rules are',
  papers: 'Members, with their age and papers',
  share: 'Share of the patch, %',
  words: { gear: 'With what it is taken', use: 'What it is for', substrate: 'What comes off with it' },
  other: 'something else',
  nothing: 'nothing',
  yes: 'Yes',
  no: 'No',
  remembered: 'Your answers hold for this outing, today.',
  duties: 'What is to be done',
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
    hint: 'Ask before anything is touched. Nothing is saved.',
    log: 'Log this find',
  },

  tally: {
    title: 'Taken, and the limits on file',
    waiting: 'Not reckoned yet.',
    none: 'No limit is on file for what was taken. That is no permission.',
    unread: 'A rule set on file cannot be read here: its limits are not known.',
    /** @type {Record<string, string>} */
    is: { within: '', atLimit: 'At the limit.', over: 'Over the limit.', unchecked: 'Not checked.' },
  },

  slate: {
    waiting: 'The rules on file are not reckoned. Take none, or print again when they are.',
    /** @param {string} name @param {string} whom @param {string} checked */
    set: (name, whom, checked) => [`${name}.`, whom, checked].filter(Boolean).join(' '),
    /** @param {string} authority @param {string} ask */
    whom: (authority, ask) => `Ask ${authority} (${ask}).`,
    /** @param {string} says */
    maybe: (says) => `where and for whom it holds: ${says}`,
    /** @param {string} on @param {string} by @param {number | null} days */
    checked: (on, by, days) => `Checked on ${on} by ${by}${days === null ? '' : days === 1 ? ', 1 day before' : `, ${days} days before`}.`,
    fault: 'It cannot be read here.',
    /** @param {number} n */
    more: (n) => `${n} more stand on the phone.`,
  },
};

export const kindNotes = {
  /** @type {Record<string, string>} */
  how: { sting: 'stings', bite: 'bites', spine: 'has spines that go deep', venom: 'is venomous', toxin: 'is poisonous', irritant: 'irritates skin and eyes', pinch: 'pinches' },
  /** @param {string[]} hows */
  does: (hows) => `It ${hows.length > 1 ? `${hows.slice(0, -1).join(', ')} and ${hows[hows.length - 1]}` : hows[0]}.`,
  grave: 'It can kill: leave it, keep children away, call for help first.',
  shore: 'On the shore: no bare hands, and look before you reach or step.',
  tank: 'In tank work: gloves and tongs, eyes covered when you cut or scrub, hands washed after.',
  // Common medical advice on wounds and sea water, from memory.
  wounds: 'Keep open wounds out of warm sea and tank water. One that reddens, swells or aches afterwards is for a doctor the same day: say that it was sea water.',
  aid: 'First aid, and whom to call',
  /** @param {string} appendix */
  trade: (appendix) => `Trade in it is controlled by treaty (CITES, appendix ${appendix}), alive or dead. Ask the authority before you take it, give it away or move it over a border.`,
  /** @param {string} where */
  spreads: (where) => `It spreads where it was brought: ${where}.`,
  /** @param {string} where */
  native: (where) => `At home in: ${where}.`,
  report: 'Where it does not belong: leave it, photograph it, report it. Bin only what clings to gear.',
};
