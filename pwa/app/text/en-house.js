// What House says: this phone, the household, joining it, its devices, its backup.

/** @typedef {'keeper' | 'collector' | 'child' | 'guest'} Role */

export const house = {
  house: {
    title: 'House',
    back: 'House',
    thisPhone: 'This phone',
    version: 'Version of the app',
    core: 'Version of the core',
    zones: 'Time zones',
    catalogue: 'Station catalogue',
    /** @param {number} n */
    stations: (n) => `${n} stations`,
    offline: 'Without signal',
    offlineReady: 'Works: the whole app is on this phone.',
    offlineNot: 'Not yet: the app is not on this phone whole.',
    list: 'List of stations',
    listKept: 'On this phone: shores can be chosen and reckoned without signal.',
    listUnkept: 'There while this page is open; this phone did not keep it.',
    listNot: 'Not on this phone yet. Choosing a shore needs it, once.',
    storage: 'What this phone keeps',
    unknown: 'not known yet',
    errors: 'Last errors on this phone',
    noErrors: 'None.',
    copyErrors: 'Copy them',
    errorsCopied: 'Copied.',
    errorsNotCopied: 'This phone did not copy them. Select and copy them by hand.',
    householdPages: 'The household',
    shoresHint: 'Where you go, and their heights',
    keeperOnly: 'A keeper’s page',
    keeperOnlyWhy: 'Only a keeper’s device may do this. Ask a keeper.',
  },

  who: {
    alone: 'This phone is not in a household’s book yet. What you write stays on it alone.',
    aloneDo: 'With an invitation from a keeper it joins; what you have made here comes along.',
    join: 'Join a household',
    /** @param {Role} role */
    role: (role) => ({ keeper: 'Keeper', collector: 'Collector', child: 'Child', guest: 'Guest' })[role],
    /** @type {Record<Role, string>} */
    may: {
      keeper: 'May do everything: invite, shut out, name the members, fetch the backup.',
      collector: 'May plan, log and take, and keep the tanks. May not invite or shut out.',
      child: 'May log finds and checks. Sees no addresses; clears, overrules and exports nothing.',
      guest: 'May read. Sees no addresses and writes nothing.',
    },
    mostly: 'Mostly used by',
    nobody: 'Nobody in particular',
    strange: 'This phone still holds another household’s book. Nothing is exchanged, so that the two do not mix.',
    strangeDo: 'Save what is not yet sent, if the other household needs it. Then take its book off this phone.',
    forget: 'Take the other book off this phone',
    forgetAsk: 'Take the other household’s book off this phone?',
    forgetWhat: 'Everything of it goes from this phone, also what is not yet sent. On its server and its other phones it stays.',
    forgetDo: 'Take it off',
    forgotten: 'The other household’s book is off this phone.',
    notForgotten: 'This phone did not do it. Close Wrackbook in other tabs, then try again.',
  },

  sent: {
    /** @param {number} n */
    title: (n) => (n === 0 ? 'Everything is sent' : `Not yet sent: ${n}`),
    /** @param {number} n */
    short: (n) => `${n} not sent`,
    /** @type {Record<import('../data/sync.js').State, string>} */
    state: {
      alone: '',
      resting: 'The household’s server has all that this phone wrote.',
      busy: 'Exchanging with the household’s server…',
      'no-signal': 'The household’s server does not answer here. What you write stays on this phone and goes when it does.',
      later: 'The household’s server asked to wait. This phone tries again by itself.',
      'shut-out': 'This phone was shut out of the household’s book.',
      update: 'This phone and the server have different versions of Wrackbook. What is not yet sent stays on this phone.',
      full: 'This phone has no room for more. Make room, then send again.',
      strange: '',
    },
    shutOutKept: 'What it has not sent stays on it: save it to a file and load it at the server, or come back.',
    shutOutDo: 'To come back, ask a keeper for a new invitation.',
    joinAgain: 'Join again',
    guest: 'What a guest’s phone wrote before it joined stays on it.',
    guestTitle: 'Up to date',
    guestState: 'What the household wrote is on this phone.',
    /** @param {string} when */
    last: (when) => `Last exchanged: ${when}`,
    never: 'Nothing was exchanged yet.',
    now: 'Send now',
    nothing: 'Ask for what is new',
    save: 'Save to a file',
    saveWhy: 'The file holds all that is not yet sent, with its photos. Take it to the computer with the server and run there:',
    saveCommand: 'wrackbook unsent FILE',
    saveTwice: 'What is in the book already is not taken twice.',
    saved: 'The file is in this phone’s downloads.',
    notSaved: 'The file could not be made on this phone.',
    /** @param {number} minutes, a whole number @param {boolean} ahead */
    clock: (minutes, ahead) => `This phone’s clock is ${span(minutes)} ${ahead ? 'ahead' : 'behind'}. Every time on it is wrong by that: set it before you go.`,
    /** @param {number} n */
    refused: (n) => (n === 1 ? 'One change does not count' : `${n} changes do not count`),
    refusedWhy: 'What stands here was written by a phone that may not write it. It is kept, but changes nothing in the book.',
    /** @type {Record<string, string>} */
    kinds: {
      member: 'A member', device: 'A device', shore: 'A shore', outing: 'An outing', find: 'A find', ruleset: 'Rules', specimen: 'A specimen',
      system: 'A water system', tank: 'A tank', event: 'An entry in a log', reading: 'A reading',
    },
  },

  join: {
    title: 'Join a household',
    intro: 'This phone joins the household’s book: what the household writes comes to it, and what it writes goes to the household.',
    already: (/** @type {string} */ name, /** @type {string} */ role) => `This phone has joined already, as “${name}” (${role.toLowerCase()}). Joining again makes it a new device; a keeper can shut the old one out.`,
    code: 'Code of the invitation',
    codeHint: 'Eight groups of five. Capitals, spaces and dashes do not matter; the whole link works too.',
    codeThere: 'Filled in from the link.',
    name: 'Name of this phone',
    nameHint: 'So that a keeper knows it among the others.',
    needName: 'Give this phone a name.',
    needCode: 'Write the code of the invitation, or open its link on this phone.',
    /** @param {number} n */
    codeLength: (n) => `There is a slip in this code: it has ${n} letters and digits, and it should have 40. Compare it group by group.`,
    /** @param {string} sign */
    codeSign: (sign) => `There is a slip in this code: “${sign}” is in none. Compare it group by group.`,
    do: 'Join',
    doing: 'Joining…',
    noSignal: 'The household’s server does not answer. The invitation is still good; try again where there is signal.',
    /** @param {number} minutes */
    tooMany: (minutes) => `Too many codes that do not work were tried. Wait ${minutes === 1 ? 'a minute' : `${minutes} minutes`}, then try again.`,
    appleFirst: 'On an iPhone or iPad, add it to the home screen first',
    apple: 'The app on the home screen shares nothing with this browser. So tap Share, then “Add to Home Screen”; open Wrackbook there, go to House, “Join a household”, and type or paste the code.',
    copyCode: 'Copy the code',
    copied: 'Copied.',
    notCopied: 'This phone did not copy it. Select it and copy it by hand.',
    appleHere: 'A link opens in the browser, which shares nothing with this app. Here the code is typed, or the whole link pasted.',
    /** @type {Record<string, string>} */
    kinds: { iphone: 'iPhone', ipad: 'iPad', android: 'Android phone', windows: 'Windows computer', mac: 'Mac', linux: 'Linux computer', other: 'Phone' },
    joined: 'This phone has joined',
    /** @param {string} name @param {string} role */
    joinedAs: (name, role) => `It is “${name}”, a ${role.toLowerCase()}’s device.`,
    shores: 'The shores on this phone join the book.',
    shoresGuest: 'Shores made before stay on this phone alone: a guest’s phone only reads.',
    on: 'On to House',
  },

  members: {
    title: 'Members',
    hint: 'Who belongs to the household',
    none: 'Nobody is on the list yet.',
    others: 'A keeper writes this list.',
    adult: 'Adult',
    child: 'Child',
    add: 'Add a member',
    edit: 'Change',
    /** @param {string} name */
    editLabel: (name) => `Change ${name}`,
    editTitle: 'Change a member',
    name: 'Name',
    needName: 'Write a name.',
    /** @param {number} most */
    tooLong: (most) => `A name has ${most} characters at most.`,
    age: 'Adult or child',
    needAge: 'Say whether it is an adult or a child.',
    save: 'Save',
    cancel: 'Back without saving',
    remove: 'Take off the list',
    /** @param {string} name */
    removeAsk: (name) => `Take ${name} off the list?`,
    removeWhat: 'What they found and wrote stays in the book under their name.',
    removeDo: 'Take off',
    /** @param {string} name */
    saved: (name) => `${name} is on the list.`,
    /** @param {string} name */
    removed: (name) => `${name} is off the list.`,
    unkept: 'This phone did not keep it. It is here until you close Wrackbook.',
    gone: 'There is no such member.',
  },

  devices: {
    title: 'Devices',
    hint: 'Which phones may come in',
    coming: 'Asking the server…',
    again: 'Ask again',
    noSignal: 'The household’s server does not answer. The list comes from it alone.',
    thisOne: 'this phone',
    /** @param {string} when */
    joined: (when) => `Joined ${when}`,
    /** @param {string} when */
    seen: (when) => `Last seen ${when}`,
    /** @param {string} when */
    out: (when) => `Shut out ${when}`,
    shutOut: 'Shut out',
    /** @param {string} name */
    shutOutLabel: (name) => `Shut out ${name}`,
    /** @param {string} name */
    ask: (name) => `Shut out “${name}”?`,
    what: 'It is let in no more, from now on. What it wrote stays in the book. What is on the phone stays there; what it has not sent can be saved there to a file. It comes back only by a new invitation.',
    own: 'It is the phone in your hand.',
    do: 'Shut it out',
    /** @param {string} name */
    done: (name) => `${name} is shut out.`,
  },

  confirm: { not: 'Leave it' },

  invite: {
    title: 'Invite',
    hint: 'Let another phone in',
    role: 'As what',
    name: 'Whose phone',
    nameHint: 'The name that its form begins with, such as “Ada’s phone”. It may stay empty.',
    nameLong: 'The name is too long. Take a shorter one.',
    minutes: 'Works for',
    /** @type {[number, string][]} */
    spans: [[60, 'an hour'], [1440, 'a day'], [4320, 'three days'], [10080, 'a week']],
    do: 'Make the invitation',
    doing: 'Making it…',
    noSignal: 'The household’s server does not answer. Invitations are made there; try again where there is signal.',
    made: 'The invitation',
    /** @param {string} role @param {string} until */
    works: (role, until) => `For a ${role.toLowerCase()}. It works once, until ${until}. Whoever has it can join: give it to nobody else.`,
    scan: 'Scan this with the other phone’s camera',
    link: 'Or open this link on it',
    code: 'Or type this code under House, “Join a household”',
    apple: 'On an iPhone or iPad: first add Wrackbook to the home screen, then type the code there.',
    share: 'Share the invitation',
    copy: 'Copy the link',
    copied: 'Copied.',
    notCopied: 'This phone did not copy it. Select it and copy it by hand.',
    /** @param {string} link @param {string} code @param {string} until */
    message: (link, code, until) => `Join our Wrackbook:\n${link}\n\nIn the app on an iPhone’s home screen, type this code instead:\n${code}\n\nIt works once, until ${until}.`,
    another: 'Make another',
    reach: 'A new phone does not reach the server?',
  },

  /** Beside the steps in en-reach.js. */
  reaching: {
    hint: 'How a new phone reaches the server',
    asking: (/** @type {string} */ _url) => 'Asking the server…',
    /** @param {string} url */
    other: (url) => `Other phones open ${url} and join there with an invitation. Nothing else has to be done on them.`,
    'no-signal': (/** @type {string} */ _url) => 'The household’s server does not answer. Look again where there is signal.',
    plain: 'At this address only the server’s own computer reaches it. Phones need https: the README has four ways, under “Reaching a server at home from a phone”; the easiest is wrackbook serve -tls own.',
  },

  backup: {
    title: 'Backup',
    hint: 'The whole book in one file',
    what: 'The file holds everything: every find with its place, every photo, every address, and which devices may come in. Keep it where you would keep a key to the house, and on another disk than the server.',
    how: 'The server makes it while it goes on serving. With many photos that takes a while, and it needs as much room there once more.',
    do: 'Fetch the backup',
    busy: 'If the download fails, another may be under way: try again in a few minutes.',
    restore: 'To restore it',
    restoreHow: 'On the computer with the server, with a new or empty folder:',
    restoreCommand: 'wrackbook restore FILE FOLDER',
    serveCommand: 'wrackbook serve -data FOLDER',
    restoreAfter: 'The phones bring back what came after the backup. Devices shut out since must be shut out again.',
  },
};

/** @param {number} minutes */
function span(minutes) {
  if (minutes < 120) return minutes === 1 ? 'a minute' : `${minutes} minutes`;
  const hours = Math.round(minutes / 60);
  return hours < 48 ? `${hours} hours` : `${Math.round(hours / 24)} days`;
}
