// What the pages of finds say: logging one, the list of the day, one find, past outings, the
// list of kinds, the history of a record.

import { amountIn } from './unit.js';

/** @typedef {'count' | 'g' | 'mL' | 'mm'} Unit */

/** @type {Record<Unit, string>} */
const unitNames = { count: 'pieces', g: 'grams', mL: 'millilitres', mm: 'millimetres' };

/** @param {number} value @param {string} unit */
const amount = (value, unit) => (unit === 'count' ? String(value) : amountIn(value, unit));

export const finds = {
  finds: {
    back: 'Shore',
    today: 'Today',
    reads: 'This phone reads only',
    readsWhy: 'It joined as a guest. To log finds on it, ask a keeper for an invitation of another kind.',
    amount,
    unitNames,
    states: { attached: 'attached', drift: 'drift', living: 'living', empty: 'empty' },
    fates: { seen: 'seen', taken: 'taken' },
    nobody: 'Nobody named',
    /** @param {number} n */
    count: (n) => (n === 1 ? '1 find' : `${n} finds`),
    notHere: 'This find is not on this phone.',
    notHereWhy: 'It may have been logged on another phone and not have come yet.',
    unsent: 'not yet sent',
    unfinished: 'details to come',
    taken: 'taken',
    back_: 'put back',
    noFix: 'no position',
    /** @param {number | null} m */
    within: (m) => (m === null ? 'position, accuracy unknown' : `position within ${amountIn(m, 'm')}`),
  },

  kinds: {
    unsure: 'Unsure',
    title: 'Kinds',
    hint: 'The starting list, and what you have named yourselves',
    what: 'These kinds are offered when a find is logged. The list is no key and no authority: names here do not say that anything may be taken. Any other name can be typed at the find.',
    search: 'Search by name',
    none: 'No kind of that name. It can be typed at a find all the same.',
    own: 'Named by this household',
    ownNone: 'None yet. A name that you type at a find and that is not on the list stands here.',
    hurts: 'do not touch bare-handed',
    controlled: 'controlled somewhere by law',
    spreads: 'spreads where it was brought',
    /** @param {string} where */
    invasive: (where) => `spreads where it was brought: ${where}`,
    /** @param {string} where */
    met: (where) => `Met in: ${where}.`,
    notYet: 'The list is not on this phone yet. It comes with the part of Wrackbook that reckons.',
    /** @param {number} n */
    shown: (n) => (n === 1 ? '1 kind' : `${n} kinds`),
  },

  log: {
    title: 'Log a find',
    begun: 'This is what you had begun.',
    begunCamera: 'The page was loaded again while the camera was open. What you had entered is here. If the photo is not, take it once more.',
    recent: 'Lately',
    all: 'Kinds by group',
    other: 'Another name',
    otherHint: 'Part of a name, in English or scientific',
    /** @param {string} typed */
    asTyped: (typed) => `Use “${typed}” as the name`,
    /** @param {string} group */
    unsureOf: (group) => `Unsure which: ${group}`,
    unsure: 'Unsure what it is',
    here: 'Something here, details later',
    hereSaved: 'something here',
    change: 'Another kind',
    group: 'What is it like?',
    groupUnsure: 'Unsure',
    amount: 'How much',
    less: 'Less',
    more: 'More',
    unit: 'Counted in',
    needAmount: 'Write how much as a number, such as 3.',
    who: 'Who found it',
    state: 'How it was',
    fate: 'What was done',
    seen: 'Seen only',
    taken: 'Taken',
    anyway: 'Take it all the same',
    anywayAsk: 'An adult decides to take this one',
    anywayLeave: 'Leave it',
    anywayDo: 'An adult has decided',
    child: 'Seen only. Taking this one is for an adult, on an adult’s phone.',
    /** @type {Record<string, string>} */
    leave: {
      unsure: 'Nobody knows yet what it is: leave it, and take a photo.',
      alive: 'It may be alive: leave it where it lives.',
      controlled: 'The law protects or controls this kind in some places. Ask the authority first; unchecked is no permission.',
      invasive: 'This kind spreads where it was brought, and moving it may be forbidden. Ask the authority first; unchecked is no permission.',
      hurts: 'It can hurt you: leave it.',
    },
    hurts: 'Do not touch it bare-handed.',
    shells: 'Look before you put a hand in: an animal may live in it.',
    unknownHurts: 'What is unknown may sting or bite: no bare hands.',
    save: 'Save the find',
    /** @param {string} what */
    saved: (what) => `Saved on this phone: ${what}.`,
    undo: 'Undo',
    undone: 'Taken off the list. It can be brought back there.',
    details: 'Details',
    unkept: 'This phone has no room left and did not keep the find. It is on the screen until you close the page: write it on the slate, then try again.',
    again: 'Try again',
    position: {
      ask: 'Add where finds are',
      why: 'This phone then asks for its position while an outing is under way. Places stay in your book.',
      off: 'Stop adding positions',
      looking: 'Looking for the position. Nothing waits for it.',
      here: 'Positions are added.',
      denied: 'This phone gives no position. Finds are saved without.',
      none: 'No position to be had just now. Finds are saved without.',
    },
  },

  photo: {
    title: 'Photos',
    take: 'Take a photo',
    coming: 'Keeping the photo.',
    /** @param {number} n */
    kept: (n) => (n === 1 ? '1 photo is kept on this phone.' : `${n} photos are kept on this phone.`),
    cancelled: 'No photo was taken. What you entered is here.',
    noRoom: 'This phone has no room for the photo. What you entered is here, without it.',
    noPicture: 'That was no picture that this phone can read. What you entered is here.',
    remove: 'Remove',
    /** @param {number} i */
    removeLabel: (i) => `Remove photo ${i}`,
    /** @param {number} i */
    alt: (i) => `Photo ${i}`,
    away: 'A photo that is not on this phone. It shows when there is signal.',
    scaleHint: 'Put a coin or a shell beside it, for its size.',
    scale: 'What lies beside it for scale',
    candidates: 'What it might be',
    candidatesHint: 'Up to six names, one a line',
    tooMany: 'Six names at the most.',
    /** @param {number} most */
    tooLong: (most) => `At most ${most} characters in each.`,
  },

  today: {
    title: 'Today’s list',
    /** @param {string} day */
    of: (day) => `List of ${day}`,
    none: 'Nothing is logged on this day.',
    log: 'Log a find',
    before: 'Earlier day',
    after: 'Later day',
    /** @param {string} what @param {string} kind */
    total: (what, kind) => `${kind}: ${what} taken`,
    noneTaken: 'Nothing taken.',
    more: 'Show more',
    undo: 'Take off',
    /** @param {string} what @param {string} at */
    undoLabel: (what, at) => `Take off the list: ${what}, ${at}`,
    gone: 'Taken off the list',
    bringBack: 'Bring back',
    /** @param {string} what */
    bringBackLabel: (what) => `Bring back: ${what}`,
    broughtBack: 'It is on the list again.',
    off: 'It is off the list. Below the list it can be brought back.',
    unfinished: 'Details to come, of other days',
  },

  oneFind: {
    title: 'Find',
    back: 'List of the day',
    /** @param {string} name */
    first: (name) => `First logged as: ${name}.`,
    deleted: 'This find was taken off the list.',
    bringBack: 'Bring it back',
    remove: 'Take it off the list',
    edit: 'Change or complete it',
    putBack: 'Put back',
    putBackDo: 'It is back where it was',
    putBackLate: 'It cannot go back: that is for the same shore and tide only. Nothing from a tank ever returns to the sea.',
    /** @param {string} at @param {string} what */
    wasPutBack: (at, what) => `Put back at ${at}${what}.`,
    notPutBack: 'It was not put back after all',
    candidates: 'It might be',
    facts: { when: 'When', shore: 'Shore', who: 'Who', amount: 'How much', fate: 'What was done', state: 'How it was', position: 'Position', size: 'Size', mass: 'Weight', height: 'Height on the shore', habitat: 'Where it sat', container: 'Container', scale: 'Beside it for scale', note: 'Note', noted: 'Noted first', sent: 'Sent' },
    slate: 'on the slate',
    sent: 'The household’s server has it.',
    notSent: 'Not yet sent.',
    alone: 'On this phone only.',
    doubt: 'To look at again',
    identify: 'Name it now',
    identifyTitle: 'What it is',
    identifyHow: 'How you know',
    identifyHowHint: 'A book, a person, what you looked at',
    identifyDo: 'Keep this name',
    identifyWhy: 'The name that it was logged with stays in the book.',
    needKind: 'Choose a kind, or type its name.',
    identified: 'Named later',
    /** @param {string} name @param {string} at @param {string} who @param {string} how */
    identifiedAs: (name, at, who, how) => [name, at, who, how].filter(Boolean).join(' · '),
    history: 'History',
    outing: 'The outing',
    /** @param {string} lat @param {string} lon @param {string} within */
    at: (lat, lon, within) => `${lat}, ${lon}; ${within}`,
    positionWaiting: 'none yet',
    heights: { high: 'high', mid: 'middle', low: 'low', pool: 'pool' },
    unset: 'not said',
    axes: { length: 'length', height: 'height', diameter: 'diameter', shell: 'shell', carapace: 'carapace', frond: 'frond' },
    weighings: { wet: 'wet', drained: 'drained', dried: 'dried', 'in the shell': 'in the shell', shelled: 'shelled' },
    axis: 'Measured along',
    weighed: 'Weighed',
    sizeMm: 'Size, mm',
    massG: 'Weight, g',
    done: 'Save',
    cancel: 'Leave it as it was',
    saved: 'Saved on this phone.',
    need: 'Write a number, such as 12 or 3.5, or leave it empty.',
    draft: 'This is what you had begun to change.',
  },

  outings: {
    title: 'Outings',
    none: 'No outing has been made yet.',
    unknownShore: 'A shore that is not on this phone',
    under: 'under way',
    settle: (/** @type {number} */ n) => `${n} taken: settle ${n === 1 ? 'it' : 'them'} in`,
    planned: 'planned',
    /** @param {number} n */
    finds: (n) => (n === 0 ? 'no finds' : n === 1 ? '1 find' : `${n} finds`),
    more: 'Show older ones',
    missing: 'This outing is not on this phone.',
    party: 'Party',
    list: 'Finds',
    plot: 'Where they were',
    plotWhat: 'Each number is a find of the list; the circle is how far off its position may be. North is up.',
    /** @param {number} percent */
    plotError: (percent) => `Drawn flat around the middle of the finds: distances are within ${percent} % of those on the ground, besides what each circle says.`,
    plotNone: 'No find of this outing has a position.',
    withoutFix: 'Without a position',
    north: 'N',
    /** @param {string} length */
    bar: (length) => `The bar is ${length}.`,
    columns: { number: 'No.', what: 'What', amount: 'How much', fate: 'Done', who: 'Who', at: 'Time', position: 'From the middle' },
    /** @param {number} east @param {number} north metres */
    from: (east, north) => `${Math.abs(Math.round(north))} m ${north < 0 ? 'south' : 'north'}, ${Math.abs(Math.round(east))} m ${east < 0 ? 'west' : 'east'}`,
    noPosition: 'none',
    history: 'History of this outing',
  },

  history: {
    title: 'History',
    /** @type {Record<string, string>} */
    kinds: { find: 'a find', shore: 'a shore', member: 'a member', outing: 'an outing', device: 'a device', specimen: 'a specimen', household: 'the household' },
    what: 'Every value that this phone has heard of, the latest first. Where two phones wrote the same field, the later writing stands and the other is kept here.',
    stands: 'stands',
    lost: 'no longer stands',
    refused: 'not counted',
    unsent: 'not yet sent',
    here: 'this phone',
    unknown: 'a device not in the book',
    /** @param {string} who @param {string} at */
    by: (who, at) => `${who}, ${at}`,
    empty: 'nothing',
    yes: 'yes',
    no: 'no',
    failed: 'The history cannot be shown without the part of Wrackbook that reckons.',
    none: 'Nothing is known of this record on this phone.',
    coming: 'Reading.',
    back: 'Back',
    /** @type {Record<string, string>} */
    fields: { at: 'when', by: 'who', taxon: 'what it is', group: 'its group', amount: 'how much', fate: 'what was done', state: 'how it was', position: 'position', note: 'note', deleted: 'taken off', unfinished: 'details to come', putBack: 'put back', candidates: 'what it might be', photos: 'photo', identified: 'named later', name: 'name', age: 'age', basis: 'station and heights', place: 'place', cutOff: 'can be cut off', walkOut: 'walk out', wayOff: 'way off' },
  },
};
