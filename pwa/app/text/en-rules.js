// What House says of rule sets: their list, a set, bringing one in, trying. What the form says
// stands in en-rule-form.js, what rules say in en-rule-words.js.

/** @param {number} n */
const days = (n) => (n === 1 ? '1 day' : `${n} days`);

export const rules = {
  title: 'Rules on file',
  hint: 'Whose they are, when they were checked, trying them',
  none: 'No rules are on file. What is not on file is not allowed by anything here: ask the authority.',
  above: 'The word of the authority and the signs on the shore stand above everything here. Nobody vouches for a set but whoever checked it.',
  reads: 'Keepers and collectors bring rules in and write them. This phone reads them.',
  unkept: 'This phone did not keep it. Make room on it, then try again.',
  back: 'Rules on file',

  law: 'What authorities say',
  own: 'Your own rules',
  ownWhy: 'What this household has agreed on. They are shown apart from the law and permit nothing.',
  ownNone: 'None yet.',
  try: 'Try a find',
  bring: 'Bring in a file',
  write: 'Write one from a notice',
  writeOwn: 'Add a rule of your own',
  /** @param {number} n */
  count: (n) => (n === 1 ? '1 rule' : `${n} rules`),
  /** @type {Record<string, string>} */
  layers: { national: 'National', regional: 'Regional', park: 'Park or reserve', closure: 'Closure for health or disease', household: 'Your own' },

  age: {
    own: 'Your own: needs no check.',
    never: 'Nobody has checked it against its source: it permits nothing, still forbids.',
    ahead: 'The day of its check lies ahead: it permits nothing, still forbids. Check it, and write the day.',
    /** @param {number} n */
    fresh: (n) => (n === 0 ? 'Checked today' : n === 1 ? 'Checked yesterday' : `Checked ${n} days ago`),
    /** @param {number} n @param {string} since */
    overdue: (n, since) => `Overdue since ${since}: permits nothing, still forbids. Checked ${days(n)} ago`,
    /** @param {string} on @param {string} by */
    by: (on, by) => `on ${on} by ${by}`,
  },
  unread: 'This Wrackbook cannot read it. It permits nothing, and what it forbids is not known. Update Wrackbook, or bring the set in again.',

  set: {
    gone: 'This set is not on file.',
    authority: 'Who is in charge',
    ask: 'How to ask them',
    source: 'Written from',
    /** @param {string} source @param {string} day */
    of: (source, day) => (day ? `${source}, of ${day}` : source),
    checked: 'Last check',
    place: 'Where it holds',
    shores: 'Your shores in it',
    shoresNone: 'None of your shores.',
    shoresUnsaid: 'Nobody has said which of your shores lie in it, so it permits nothing on any.',
    /** @param {string} names */
    shoresOpen: (names) => `(Nobody has said it of: ${names}. There it permits nothing.)`,
    shoresDrawn: 'Its area is drawn in the file: the place of each find decides.',
    shoresChange: 'Change',
    shoresKeep: 'Keep',
    shoresKept: 'Kept: which of your shores lie in it.',
    from: 'In force',
    /** @param {string} from @param {string} to */
    span: (from, to) => (from && to ? `from ${from} to ${to}` : from ? `from ${from} on` : `until ${to}`),
    purposes: 'For',
    /** @type {Record<string, string>} */
    purpose: { home: 'your own use at home', teaching: 'a workshop or lesson', trade: 'a sale' },
    usual: 'your own use at home; a workshop or a sale is not covered',
    everyone: 'every outing',
    otherwise: 'What it does not name',
    /** @type {Record<string, string>} */
    otherwises: {
      unchecked: 'stays unchecked: do not take it', forbidden: 'may not be taken', allowed: 'may be taken', others: 'is left to other sets: this one only adds to them',
    },
    note: 'Note',
    rules: 'What it says',
    questions: 'What it asks before a take',
    again: 'Checked again today',
    againWhat: 'Read the source again, the whole of it. Where it says anything else by now, change the set first.',
    againRead: 'I have read the source, and the set says the same.',
    againNeed: 'Read the source first; then say so.',
    againDone: 'Checked today.',
    edit: 'Change it',
    export: 'Export as a file',
    exportWhy: 'Others can bring it in. When it was checked, and your shores, do not go along.',
    exported: 'The file is in this phone’s downloads.',
    shared: 'Shared.',
    notExported: 'This phone did not make the file.',
    remove: 'Take off file',
    /** @param {string} name */
    removeAsk: (name) => `Take “${name}” off file?`,
    removeWhat: 'Its shores then have no current rules of it: unchecked, do not take. The history keeps it.',
    removeDo: 'Take it off',
    /** @param {string} name */
    removed: (name) => `“${name}” is off file.`,
    history: 'History',
  },

  check: {
    title: 'Who checked it, and when',
    why: 'Somebody has to compare the set with its source. A file cannot say that for you.',
    on: 'Checked on',
    onHint: 'The day on which somebody read the source and compared.',
    by: 'By whom',
    needOn: 'Give the day of the check.',
    ahead: 'That day lies ahead. Give the day on which somebody compared.',
    old: 'By that day the check is overdue already: it will forbid and permit nothing until somebody checks again.',
    needBy: 'Say who compared it with the source.',
    /** @param {number} n */
    tooLong: (n) => `At most ${n} characters.`,
    /** @param {string} place */
    shores: (place) => `Which of your shores lie in: ${place}?`,
    ourShores: 'On which of your shores?',
    shoresHint: 'On the others it says nothing.',
    noShores: 'You have no shores yet. Add them in Plan, then choose them here.',
    needShores: 'Choose the shores, or say that none lies in it.',
    /** @param {number} n */
    full: (n) => `There are ${n} sets on file, which is the most. Take one off first.`,
    noneOfThem: 'None of them',
  },

  import: {
    title: 'Bring in rules',
    what: 'A file that a club or another household shares. It is read and checked first; nothing is on file until you say so.',
    file: 'Choose a file',
    or: 'Or paste its text',
    read: 'Read the text',
    empty: 'Paste the text of a file first.',
    /** @param {string} size */
    large: (size) => `That is ${size}; a rule set has at most 1 MB. It is probably no rule set. Nothing was read.`,
    unreadable: 'This phone could not read the file. Nothing was taken in.',
    reading: 'Reading it…',
    faulty: 'Not taken in',
    /** @param {string} place */
    at: (place) => `Place in the file: ${place}`,
    atStart: 'the beginning',
    faultyDo: 'Nothing of it is on file. Ask whoever wrote it to mend it, or mend it here and read it again.',
    notReckoned: 'The part of Wrackbook that reads rules is not running. Nothing was taken in; try again.',
    says: 'This is what it says',
    again: 'Another file',
    there: 'A set of this name is on file already',
    /** @param {string} source @param {number} n */
    thereIs: (source, n) => `On file: from ${source}, ${n === 1 ? '1 rule' : `${n} rules`}.`,
    replace: 'Put this in its place. The history keeps the old one.',
    both: 'Keep both. The stricter holds.',
    needThere: 'Say what is to become of the one that is there.',
    put: 'Put on file',
    /** @param {string} name */
    done: (name) => `“${name}” is on file.`,
  },

  try_: {
    title: 'Try a find',
    imagined: 'Imagined. Nothing is saved.',
    what: 'Ask what the rules on file say of a find that nobody has made. What you have really taken counts along.',
    shore: 'On which shore',
    noShores: 'Add a shore in Plan first: rules hold in places.',
    kind: 'What kind',
    kindHint: 'A common or a scientific name.',
    asTyped: (/** @type {string} */ name) => `As typed: ${name}`,
    chosen: 'Chosen',
    group: 'Group',
    state: 'How it is',
    unsaid: 'Not said',
    amount: 'How much',
    unit: 'Unit',
    mass: 'Weight in g',
    weighed: 'How it is weighed',
    size: 'Size in mm',
    axis: 'Measured along',
    who: 'Who takes it',
    nobody: 'Not said',
    when: 'Day',
    clock: 'Time, by the shore’s clock',
    purpose: 'The outing is for',
    needKind: 'Choose a kind.',
    needNumber: 'A number, such as 3 or 2.5.',
    needWhen: 'Give a day and a time.',
    more: 'Weight, size, with what, what for',
    /** @param {string[]} list */
    wordsOnFile: (list) => (list.length > 0 ? `Words of the rules on file: ${list.join(', ')}. Commas between.` : 'Commas between.'),
    nothing: 'nothing',
    papers: 'Licences and ages of your members',
    /** @type {Record<string, string>} */
    ours: { forbidden: 'Leave it', over: 'Too many', unchecked: 'Not checked', atLimit: 'At the limit', within: 'Within' },
    notReckoned: 'Not reckoned: no permission.',
    asks: 'The rules ask',
    answersHere: 'These answers hold for this try alone.',
    how: 'Rule by rule',
  },

  past: {
    title: 'History of the rules',
    what: 'Every version that this phone has heard of, the latest first. What no longer stands is kept.',
    versions: 'What they said',
    checks: 'Checks',
    shores: 'Shores',
    taken: 'On file',
    stands: 'Stands',
    /** @param {string} who @param {string} at */
    by: (who, at) => `Written on ${who}, ${at}`,
    show: 'Show what it says',
    nobody: 'nobody',
    /** @param {string} on @param {string} by */
    check: (on, by) => `Checked on ${on} by ${by}`,
    noCheck: 'No check',
    /** @param {string} name @param {any} is */
    shore: (name, is) => `${name}: ${is === true ? 'lies in it' : is === false ? 'does not lie in it' : 'not said'}`,
    off: 'Taken off file',
    on: 'Put on file again',
  },

  papers: {
    title: 'Licences and ages',
    hint: 'What rules ask of persons',
    why: 'Rules compare these with what they name. What is not said here stays unchecked. Children and guests do not see it.',
    keeper: 'Keepers write this.',
    none: 'No member is in the book yet.',
    noneNamed: 'No rule on file names a licence, a right or a consent.',
    born: 'Year of birth',
    bornHint: 'For rules that ask an age. May stay empty.',
    needBorn: 'A year, such as 1984.',
    /** @type {Record<string, (name: string) => string>} */
    has: { licences: (name) => `Has the licence “${name}”`, rights: (name) => `Holds the right “${name}”`, consents: (name) => `Has the consent of ${name}` },
    until: 'Good until (may stay empty)',
    number: 'Its number',
    keep: 'Keep',
    /** @param {string} name */
    kept: (name) => `Kept: ${name}.`,
  },

  days: {
    title: 'How long a check counts',
    /** @param {number} text @param {number} closure */
    is: (text, closure) => `A check of rules counts for ${days(text)}, that of a closure for ${days(closure)}. After that a set goes on forbidding and permits nothing.`,
    text: 'Rules, in days',
    closure: 'Closures, in days',
    keep: 'Keep',
    /** @param {number} most */
    need: (most) => `A whole number of days, 1 to ${most}.`,
    kept: 'Kept.',
    keeper: 'A keeper sets it.',
  },

  need: {
    take: 'Say whether the notice lets people take them.',
    says: 'The rule says nothing yet. Say whether they may be taken, or tick what the notice says.',
    kinds: 'Say which kinds it is about.',
    whole: 'A whole number, such as 5.',
    number: 'A number, such as 5 or 2.5.',
    days: 'A whole number of days, 2 to 366.',
    size: 'Give the least or the greatest size, or both.',
    slot: 'The least size is more than the greatest.',
    months: 'Choose the months.',
    day: 'Give a day of the year.',
    hours: 'Give both times.',
    list: 'Write at least one, one a line.',
    duty: 'Write what is to be done.',
    words: 'Write it, or untick it.',
    above: 'Say above what it is left.',
    percent: 'A percentage from 0 to 100.',
    back: 'Say what the notice says of putting back, or untick it.',
    cut: 'Say what is left standing, or that it is not torn.',
    years: 'Whole years, 0 to 120.',
    person: 'Write the licence, whose consent, or an age.',
  },
};
