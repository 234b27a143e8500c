// What rules say, as sentences: one for each part of a rule. Composed in ui/rules/rule-words.js.

/** @param {string[]} list @param {string} last */
const join = (list, last) => (list.length < 2 ? list.join('') : `${list.slice(0, -1).join(', ')} ${last} ${list[list.length - 1]}`);

export const words = {
  join,
  all: 'Everything',
  restOfAll: 'Everything that no other rule here allows by name',
  /** @param {string} names */
  restOf: (names) => `Of ${names}, all that no other rule here allows by name`,
  /** @param {string} of @param {string} left */
  except: (of, left) => `${of}, but not ${left}`,
  /** @param {string} of @param {string[]} states */
  inState: (of, states) => `${of} (only ${join(states, 'or')})`,
  /** @type {Record<string, string>} */
  groups: {
    greens: 'green algae', reds: 'red algae', browns: 'brown algae', calcareous: 'calcareous algae', hermits: 'hermit crabs', crabs: 'crabs', shrimps: 'shrimps', snails: 'snails',
    bivalves: 'bivalves', anemones: 'anemones', fish: 'fish', echinoderms: 'echinoderms', shells: 'shells', rock: 'rock', algae: 'all algae', molluscs: 'all molluscs',
    crustaceans: 'all crustaceans', invertebrates: 'all animals without a backbone', animals: 'all animals',
  },
  /** @type {Record<string, string>} */
  states: { attached: 'attached', drift: 'washed up or adrift', living: 'living', empty: 'empty or dead' },

  allowed: 'May be taken, within what else the rules say.',
  forbidden: 'May not be taken at all.',

  /** @param {string} much */
  atMost: (much) => `At most ${much}.`,
  each: 'of each kind',
  /** @type {Record<string, string>} */
  base: {
    person: 'for each person', party: 'for the whole party', vehicle: 'for all in one vehicle', licence: 'on one licence', household: 'for the household',
    everyone: 'for everybody who gathers there, together',
  },
  /** @type {Record<string, string>} */
  who: { gathers: 'for each person who gathers', adults: 'for each adult', all: 'for each person of the party, also one who does not gather' },
  /** @type {Record<string, string>} */
  per: { day: 'in a day', tide: 'on one tide', outing: 'on one outing', possession: 'in possession at any one time', season: 'in a season', year: 'in a year' },
  /** @param {number} n */
  days: (n) => `in any ${n} days together`,
  putBackFree: 'What is put back does not count.',
  /** @param {string} n */
  keepFirst: (n) => `The first ${n} must be kept, whatever their size or condition.`,
  /** @param {string} much */
  or: (much) => `Where that is not known: at most ${much}.`,
  /** @type {Record<string, string>} */
  weighed: { wet: 'weighed wet', drained: 'weighed drained', dried: 'weighed dried', 'in the shell': 'weighed in the shell', shelled: 'weighed out of the shell' },
  /** @param {string} n */
  containers: (n) => (n === '1' ? '1 container' : `${n} containers`),
  /** @param {string} n */
  share: (n) => `${n} % of a patch`,

  /** @type {Record<string, string>} */
  axis: { length: 'long', height: 'high', diameter: 'across', shell: 'along the shell', carapace: 'along the carapace', frond: 'along the frond' },
  /** @param {string} mm @param {string} along */
  least: (mm, along) => `Must be at least ${mm} ${along}.`,
  /** @param {string} mm @param {string} along */
  most: (mm, along) => `Must be at most ${mm} ${along}.`,
  /** @param {string} least @param {string} most @param {string} along */
  slot: (least, most, along) => `Must be from ${least} to ${most} ${along}.`,

  /** @param {string} spans */
  open: (spans) => `Open only ${spans}.`,
  /** @param {string} spans */
  closed: (spans) => `Closed ${spans}.`,
  /** @param {string} when */
  during: (when) => `This holds only then: ${when}`,
  /** @param {string} from @param {string} to */
  fromTo: (from, to) => `from ${from} to ${to}`,
  /** @param {string[]} names */
  months: (names) => `in ${join(names, 'and')}`,
  /** @param {string[]} days */
  onDays: (days) => `on ${join(days, 'and')}`,
  /** @param {number} first @param {number} last @param {string} of */
  moon: (first, last, of) => (first === 0 && last === 0 ? `on the day of ${of}` : first === 0 ? `on the day of ${of} and ${last === 1 ? 'the day' : `the ${last} days`} after it` : `from day ${first} to day ${last} of ${of} (day 0 is the day of it)`),
  /** @type {Record<string, string>} */
  moons: { new: 'a new moon', full: 'a full moon', either: 'a new or full moon' },
  /** @param {string} from @param {string} to */
  hours: (from, to) => `Only between ${from} and ${to}, by the shore’s clock.`,
  /** @param {string} edge @param {number} min */
  shifted: (edge, min) => (min === 0 ? edge : `${Math.abs(min)} minutes ${min > 0 ? 'after' : 'before'} ${edge}`),

  /** @type {Record<string, (list: string) => string>} */
  only: { gear: (list) => `Only with: ${list}.`, use: (list) => `Only for: ${list}.`, substrate: (list) => `Nothing else may come off with it than: ${list}.` },
  /** @type {Record<string, (list: string) => string>} */
  never: { gear: (list) => `Never with: ${list}.`, use: (list) => `Never for: ${list}.`, substrate: (list) => `May not come off with it: ${list}.` },

  /** @param {string} name */
  licence: (name) => `Needs the licence “${name}”.`,
  /** @param {string} name @param {string} much */
  licenceAbove: (name, much) => `Needs the licence “${name}” for more than ${much}.`,
  /** @param {string} whom */
  consent: (whom) => `Needs the consent of ${whom}.`,
  /** @param {number} n */
  ageFrom: (n) => `Who takes it must be ${n} or older.`,
  /** @param {number} n */
  ageTo: (n) => `Who takes it must be ${n} or younger.`,
  /** @param {number} n */
  rest: (n) => `The shore rests for ${n === 1 ? 'a day' : `${n} days`} after a visit: nothing of this is taken then.`,
  /** @param {string} left @param {string} above */
  cutAbove: (left, above) => `When it is cut, at least ${left} above the ${above} is left.`,
  /** @param {string} above */
  cutOver: (above) => `It is cut above the ${above}, which is left.`,
  /** @param {string} part */
  cutPart: (part) => `At least ${part} % of each plant is left.`,
  notTorn: 'It is cut, not torn.',
  /** @param {string} what */
  duty: (what) => (/[.?!]$/.test(what) ? what : `${what}.`),
  /** @param {string} ask */
  asks: (ask) => `It asks: “${ask}” Only yes permits.`,
  /** @type {Record<string, string>} */
  return: { demanded: 'What may not be kept must be put back at once.', allowed: 'May be put back, on the same shore and tide.', forbidden: 'Once taken, it may not be put back.' },
  /** @param {string} note */
  note: (note) => `Note: ${note}`,

  /** @param {string} place */
  in: (place) => `Holds only in ${place}.`,
  drawn: 'Holds only in a part of the area that is drawn on a map in the file.',
  drawnIn: 'The part is drawn on a map in the file.',
  cutOut: 'Parts of it are left out, as drawn in the file.',
  /** @param {string} from @param {string} to */
  strip: (from, to) => `Holds only between ${from} and ${to}.`,
  /** @param {string} from */
  stripAbove: (from) => `Holds only above ${from}.`,
  /** @param {string} to */
  stripBelow: (to) => `Holds only below ${to}.`,
  /** @param {string} named @param {number} plus */
  level: (named, plus) => {
    const of = named || 'chart datum';
    return plus === 0 ? of : `${Math.abs(plus)} m ${plus > 0 ? 'above' : 'below'} ${of}`;
  },
  /** @param {string} who */
  unless: (who) => `Does not hold for who ${who}.`,
  /** @param {string} name */
  hasLicence: (name) => `has the licence “${name}”`,
  /** @param {string} name */
  hasRight: (name) => `holds the right “${name}”`,
  /** @param {number} n */
  under: (n) => `is under ${n}`,
  /** @param {number} n */
  from: (n) => `is ${n} or older`,
};
