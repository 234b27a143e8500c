// The forms in which rules are written: from a notice, and the household's own. And what a set
// asks before a take.

export const questions = {
  purpose: 'What is the outing for: home, a lesson, a sale?',
  state: 'Is it attached, adrift, living or empty?',
  amount: 'How many are there, or how much?',
  weight: 'What does it weigh?',
  /** @param {string} weighed */
  mass: (weighed) => `What does it weigh, ${weighed}?`,
  share: 'Which share of the patch is it?',
  container: 'In which container is it?',
  who: 'Who takes it?',
  total: 'Is the total for everybody not yet reached?',
  /** @type {Record<string, string>} */
  size: { length: 'How long is it?', height: 'How high is it?', diameter: 'How wide is it?', shell: 'How long is the shell?', carapace: 'How long is the carapace?', frond: 'How long is the frond?' },
  gear: 'With what is it taken?',
  use: 'What is it taken for?',
  substrate: 'What comes off with it?',
  /** @param {string} name */
  licence: (name) => `Has who takes it the licence “${name}”?`,
  /** @param {string} whom */
  consent: (whom) => `Has who takes it the consent of ${whom}?`,
  age: 'How old is who takes it?',
  cut: 'Is it cut as the rules say?',
  level: 'Between which heights was it found?',
  place: 'Where exactly was it found?',
};

export const ruleForm = {
  title: 'Write rules from a notice',
  editTitle: 'Change these rules',
  startTitle: 'What have you before you?',
  startWhy: 'The notice, the leaflet or the page of the authority. You copy what it says, a step at a time; nothing is on file until the end.',
  /** @type {Record<string, [string, string]>} */
  starts: {
    notice: ['A notice with limits', 'How many, which size, which months: what most fishery offices print.'],
    reserve: ['The rules of a park or reserve', 'Often nothing may be taken, or only what is named.'],
    closure: ['A closure for health or disease', 'For a time and a place. It overrides everything, and counts for a day only.'],
    blank: ['Something else', 'Begin with nothing.'],
  },
  goOn: 'Go on with what you began',
  /** @param {string} name */
  began: (name) => (name ? `You began to write “${name}”.` : 'You began to write a set.'),
  drop: 'Throw it away',
  dropAsk: 'Throw away what you began?',
  dropWhat: 'It was never on file. What is on file stays.',
  dropped: 'Thrown away.',
  gone: 'What you began is not on this phone. Begin again.',
  /** @param {number} n @param {number} of @param {string} title */
  step: (n, of, title) => `Step ${n} of ${of}: ${title}`,
  steps: { who: 'Who makes the rules', source: 'Where they are written', where: 'Where they hold', rules: 'What they say', check: 'Check, and put on file' },
  stepsLabel: 'Steps',
  next: 'Next',
  before: 'Back',
  put: 'Put on file',
  kept: 'What you write stays on this phone until it is on file.',

  name: 'What you call this set',
  nameHint: 'Such as “Harbour Board, shellfish”.',
  layer: 'Whose rules are they?',
  /** @type {Record<string, string>} */
  layers: { national: 'The country’s', regional: 'A region’s, a county’s, a state’s', park: 'A park’s or reserve’s', closure: 'A closure for health or disease', household: 'Our own' },
  authority: 'Who is in charge?',
  authorityHint: 'The office, as it names itself.',
  ask: 'How do you ask them?',
  askHint: 'A telephone number, an address, opening hours.',
  source: 'Where is it written?',
  sourceHint: 'The notice, the leaflet or the page, so that somebody finds it again.',
  sourceDate: 'Of which day is that text?',
  sourceDateHint: 'As it says itself. Where it says none: the day on which you read it.',
  from: 'In force from',
  to: 'The last day in force',
  fromHint: 'From when, and until when? Leave both empty where it does not say.',
  purposes: 'For which outings does it speak?',
  purposesHint: 'Limits for personal use seldom cover a workshop, and never a sale. Where it says nothing, tick nothing.',
  place: 'Where do the rules hold?',
  placeHint: 'As the notice says it, such as “the shore from the pier to Split Rock”.',
  drawn: 'The area of this set is drawn on a map in its file. It stays as it is.',
  otherwise: 'And kinds that it does not name?',
  otherwiseHint: 'What the notice says of everything else.',
  /** @type {Record<string, string>} */
  otherwises: {
    unchecked: 'It says nothing of them: they stay unchecked', forbidden: 'They may not be taken', allowed: 'They may be taken too',
    others: 'It only adds to other rules, and permits nothing by itself',
  },
  note: 'Anything else about the set',

  rulesWhy: 'One rule for each kind or group of kinds, in the order of the notice. A limit inside another is two rules: one of the kind, one of them all.',
  add: 'Add a rule',
  noRules: 'No rule yet.',
  edit: 'Change',
  /** @param {string} name */
  editRule: (name) => `Change the rule ${name}`,
  unfinished: 'Not finished',
  needRules: 'Write at least one rule.',
  /** @param {string} name */
  needFinish: (name) => `The rule ${name} is not finished. Finish it, or take it out.`,
  /** @param {number} n */
  unnamed: (n) => `rule ${n}`,
  keptParts: 'The form has no question for this part; it stays as the file says it.',
  faulty: 'The rules are not whole yet',
  notReckoned: 'The part of Wrackbook that checks rules is not running. What you wrote is kept here; try again.',

  rule: {
    title: 'One rule',
    of: 'Which kinds is it about?',
    /** @type {Record<string, string>} */
    whats: { named: 'These kinds', rest: 'Everything that no other rule of the notice allows', all: 'Everything' },
    groups: 'Groups',
    taxon: 'A kind by name',
    taxonHint: 'A common or a scientific name. A genus stands for all its species.',
    /** @param {string} name */
    remove: (name) => `Take out ${name}`,
    chosen: 'Chosen',
    except: 'But not these',
    exceptTaxon: 'Left out: a kind by name',
    states: 'Only in some states?',
    statesHint: 'Tick none where it holds for all.',
    take: 'Does the notice let people take them?',
    /** @type {Record<string, string>} */
    takes: { allowed: 'Yes, within what follows', forbidden: 'No, never', silent: 'It does not say so; it only restricts' },
    takeHint: 'A notice that says “no more than five” lets people take five.',
    says: 'What else does it say? Tick that, and answer. Untick what it does not say.',
    /** @type {Record<string, string>} */
    questions: {
      limits: 'How many, or how much, may be taken?', sizes: 'Is there a size?', season: 'Are there closed months, or open ones?', hours: 'Are there hours?', gear: 'With what may it be taken?',
      cut: 'How must it be cut?', use: 'What may it be used for?', person: 'Does one need a licence, a consent, an age?', return: 'May it be put back?', duties: 'Is there something to be done besides?', note: 'Something in its own words?',
    },
    name: 'A short name for the rule',
    nameHint: 'Verdicts call it by that. Left empty, it is called by its kinds.',
    needName: 'At most 60 characters, without . / [ ]',
    sameName: 'Another rule has that name.',
    preview: 'It reads',
    previewNone: 'Nothing yet.',
    /** @param {string[]} list */
    open: (list) => `Still open: ${list.join(' · ')}`,
    keep: 'Keep this rule',
    out: 'Take this rule out',
    outAsk: 'Take this rule out?',
    outWhat: 'The others stay.',
    outDo: 'Take it out',
    outDone: 'The rule is out.',
    empty: 'A line that stays empty does not count.',
    kept: 'The rule is kept.',
    another: 'One more',
    less: 'One less',
  },

  limit: {
    most: 'No more than',
    unit: 'Of what',
    /** @type {Record<string, string>} */
    units: { count: 'pieces', g: 'weight', mL: 'volume', mm: 'length', containers: 'containers', share: 'per cent of a patch' },
    as: 'In',
    weighed: 'How is it weighed?',
    base: 'For whom',
    /** @type {Record<string, string>} */
    bases: { person: 'each person', party: 'the whole party', vehicle: 'all in one vehicle', licence: 'one licence', household: 'the household', everyone: 'everybody together, until it is reached' },
    per: 'In what time',
    /** @type {Record<string, string>} */
    pers: { day: 'in a day', tide: 'on one tide', outing: 'on one outing', possession: 'in possession at one time', days: 'in several days together', season: 'in a season', year: 'in a year' },
    days: 'How many days',
    who: 'Who has a share',
    /** @type {Record<string, string>} */
    whos: { '': 'who gathers', adults: 'adults only', all: 'everybody of the party' },
    each: 'Each kind counts by itself',
    keepFirst: 'The first so many must be kept, whatever they are like',
    putBackFree: 'What is put back does not count',
  },
  moreOfLimit: 'More about this limit',
  size: { axis: 'Measured', least: 'At least', most: 'At most', as: 'In' },
  season: {
    is: 'The notice names the time when it is',
    /** @type {Record<string, string>} */
    ises: { closed: 'closed', open: 'open' },
    how: 'By',
    /** @type {Record<string, string>} */
    hows: { months: 'whole months', dates: 'dates' },
    from: 'From', to: 'To, with that day', day: 'day', month: 'month',
    months: 'Months',
  },
  hours: {
    is: 'When may it be taken?',
    /** @type {Record<string, string>} */
    ises: { sun: 'From sunrise to sunset', clock: 'Between two times' },
    from: 'From', to: 'To',
  },
  gear: { only: 'Only with, one a line', onlyHint: 'Such as hand, and on the next line knife.', never: 'Never with, one a line', neverHint: 'Such as rake, and on the next line diving gear.' },
  use: { only: 'Only for, one a line', onlyHint: 'Such as own table, and on the next line aquarium.', never: 'Never for, one a line', neverHint: 'Such as sale, and on the next line bait.' },
  cut: {
    leave: 'How much is left standing', as: 'In', above: 'Above what',
    /** @type {Record<string, string>} */
    aboves: { holdfast: 'the holdfast', bulb: 'the bulb', anchor: 'the anchor', root: 'the root', '': 'not said' },
    part: 'Which part of each plant is left, in per cent', notTorn: 'Cut, not torn',
  },
  person: {
    licence: 'The licence or permit that is needed', licenceHint: 'As it is called; it is compared with those of your members.', consent: 'Whose consent is needed', ageFrom: 'From which age', ageTo: 'Up to which age',
    above: 'Above a certain amount only, as the file says:',
  },
  back: {
    is: 'What does the notice say?',
    /** @type {Record<string, string>} */
    ises: { demanded: 'What may not be kept must go back at once', allowed: 'It may be put back', forbidden: 'Once taken, it may not be put back' },
  },
  duty: { do: 'What is to be done', doHint: 'Such as: fill the hole again.', ask: 'Asked before a take (may stay empty)', askHint: 'A question to which only yes permits, such as “Is the hole filled?”' },
  noteIn: 'In its own words',

  need: {
    /** @param {string} what */
    some: (what) => `Fill in: ${what}`,
    tooLong: (/** @type {number} */ n) => `At most ${n} characters.`,
    day: 'Give the day.',
    order: 'The last day is before the first.',
    otherwise: 'Say what holds of other kinds.',
    layer: 'Say whose rules they are.',
  },

  /** @type {Record<string, string>} */
  axis: { shell: 'along the shell', length: 'its length', height: 'its height', diameter: 'across', carapace: 'along the carapace', frond: 'along the frond' },
  /** @type {Record<string, string>} */
  weighed: { '': 'not said', wet: 'wet', drained: 'drained', dried: 'dried', 'in the shell': 'in the shell', shelled: 'out of the shell' },
};

export const ownRules = {
  title: 'A rule of your own',
  editTitle: 'Change your own rule',
  why: 'What your household has agreed on, beside the law and stricter. It permits nothing.',
  kind: 'What have you agreed on?',
  /** @type {Record<string, string>} */
  kinds: {
    share: 'Leave most of a patch', rest: 'Rest a shore after a visit', care: 'Never more than so many in care at once', holdfast: 'Leave the holdfast', number: 'No more than so many in a day', never: 'Leave some kinds alone',
  },
  of: 'Of which kinds?',
  /** @type {Record<string, string>} */
  ofs: { all: 'Everything', named: 'Some kinds' },
  /** @type {Record<string, string>} */
  ask: {
    share: 'The most that is taken of a patch, in per cent', rest: 'For how many days', care: 'How many at the most', number: 'How many at the most', holdfast: 'Which part of each plant is left, in per cent (may stay empty)',
  },
  /** @type {Record<string, string>} */
  hint: {
    share: 'Ten leaves nine of ten. What is taken in a day counts together, each kind by itself.', rest: 'After any visit that is logged there, nothing is taken for so many days.', care: 'All that are still alive or kept count, wherever they are.',
    number: 'All of you together.', holdfast: 'The part that holds to the rock stays, so that it grows again.',
  },
  /** @type {Record<string, (n: string) => string>} */
  names: {
    share: (n) => `Take no more than ${n} % of a patch`, rest: (n) => `Rest for ${n === '1' ? 'a day' : `${n} days`} after a visit`, care: (n) => `Never more than ${n} in care`, holdfast: () => 'Leave the holdfast',
    number: (n) => `No more than ${n} in a day`, never: () => 'Leave alone',
  },
  name: 'What you call it',
  nameHint: 'Left empty, it is called by what it says.',
  household: 'Our household',
  asks: 'among ourselves',
  source: 'What we agreed on',
  place: 'our shores',
  put: 'Put on file',
  other: 'This set has more than the short form asks. Change it in the long one.',
  long: 'Open the long form',
  need: { kind: 'Say what you have agreed on.', percent: 'A percentage from 1 to 100.', days: 'A whole number of days, 1 to 3660.', number: 'A whole number, such as 3.', name: 'At most 60 characters, without . / [ ]' },
};

export const shareHelp = {
  title: 'Which share of a patch is that?',
  why: 'Count or pace before you take; the answer is an estimate with its bounds, and rules go by the larger.',
  how: 'What have you?',
  /** @type {Record<string, string>} */
  hows: { counts: 'All plants of the patch, counted', squares: 'Some squares, counted', paces: 'The patch and the part of it, paced' },
  counted: 'Plants in the patch',
  taking: 'Plants that you would take',
  side: 'Side of a square, in cm',
  counts: 'Plants in each square, with spaces between',
  long: 'Patch: paces long',
  wide: 'Patch: paces wide',
  pace: 'One pace, in cm',
  partLong: 'Part to be taken: paces long',
  partWide: 'Part to be taken: paces wide',
  reckon: 'Estimate it',
  needNumbers: 'Fill in every number.',
  notReckoned: 'Not reckoned. Nothing is known of the share.',
};
