// What Shore says before an outing and around it: planning one, go or no-go, the emergency
// card, the slate, catching up, telling somebody; and in House the household's own page.

/** @param {number} n @param {string} one @param {string} many */
const count = (n, one, many) => `${n} ${n === 1 ? one : many}`;

/** @param {string[]} list */
const listed = (list) => list.join(', ');

export const outing = {
  trip: {
    title: 'Plan an outing',
    fromPlan: 'Plan this outing',
    notYours: 'A child’s or a guest’s phone reads plans only. Ask a keeper.',
    gone: 'There is no such outing on this phone.',
    noShore: 'An outing goes to a shore. Choose one in Plan first.',
    toPlan: 'Go to Plan',
    draft: 'What you typed before is still here.',
    coming: 'Planned already',
    shore: 'Shore',
    on: 'Day',
    badDay: 'Choose a day from 5 January 1900 to 27 December 2100.',
    window: 'Window',
    windowsComing: 'Reckoning the windows of this day…',
    windowsFailed: 'The windows could not be reckoned here. A plan without one has no start back and no off by.',
    /** @param {string} why */
    noWindows: (why) => `No window on this day. ${why}`,
    doubt: 'The list of stations has changed since this shore’s heights were set. Open Plan and answer its question first.',
    /** @param {string} from @param {string} to */
    usable: (from, to) => `${from} – ${to}`,
    /** @param {string} back @param {string} off */
    limits: (back, off) => `start back ${back}, off the rocks by ${off}`,
    keptWindow: 'As planned before',
    noWindow: 'No window: we know the times ourselves',
    lights: 'Plan decides which light counts:',
    purpose: 'What for',
    purposes: { home: 'For our own tanks', teaching: 'Teaching', trade: 'Trade' },
    party: 'Who comes',
    partyHint: 'Each child wears a number and goes with somebody. One adult only watches: neither logs nor gathers.', // common practice
    noMembers: 'Nobody is on the household’s list yet. Add people here, or in House.',
    guest: 'Somebody else',
    guestName: 'Name',
    guestAs: 'Adult or child',
    adult: 'adult',
    child: 'child',
    addGuest: 'Add',
    needGuest: 'Write a name first.',
    /** @param {string} name */
    takeOff: (name) => `Take off ${name}`,
    off: 'Take off',
    /** @param {string} what */
    without: (what) => `Not needed: ${what}`,
    notNeeded: 'Not needed',
    does: 'Does what',
    doing: { gathers: 'gathers and logs', 'comes along': 'comes along', watches: 'only watches' },
    number: 'Number to wear',
    with: 'Goes with',
    nobody: 'nobody yet',
    /** @param {string} name @param {string} what */
    of: (name, what) => `${name}: ${what.toLowerCase()}`,
    needNumber: 'Write a number from 1 to 99.',
    ashore: 'Who ashore knows',
    whoName: 'Name',
    ashoreHint: 'Somebody at home who knows where you are and acts if you are late.',
    call: 'How they are reached',
    callHint: 'A telephone number, so that you can say that you are back.',
    dueBack: 'Due back',
    /** @param {number} travel @param {number} pack */
    dueHint: (travel, pack) => `On the shore’s clock. Off by, ${travel} min of way home and ${pack} min to pack up, unless you write another.`,
    dueHintPlain: 'On the shore’s clock, such as 17:30.',
    needDue: 'Write a time such as 17:30, or leave both empty.',
    needWho: 'Write who ashore knows, or leave both empty.',
    dueEarly: 'Due back is before you are off the rocks.',
    dueLate: 'Due back would be more than twelve hours after you are off the rocks. Write an earlier time.',
    kit: 'Gear',
    kitHint: 'Tick what is packed, now or on the morning.',
    /** Common to shore surveys: climatewatch.org.au, highlandbiodiversity.com. */
    gear: {
      boots: 'Boots that grip', gloves: 'Gloves', phone: 'Charged phone in a waterproof case', firstaid: 'First-aid kit',
      layers: 'Warm and waterproof layers', water: 'Drinking water', hat: 'Sun hat and sun cream',
    },
    containers: 'Containers',
    containersHint: 'Carried damp and cool, not in a full bucket in the sun.',
    boxes: { coolbox: 'Cool box', tub: 'Tub with a lid' },
    add: 'Add to the list',
    addGear: 'Another thing to take',
    addBox: 'Another container',
    note: 'Note',
    save: 'Keep the plan',
    cancel: 'Back without keeping',
    /** @param {number} most */
    tooLong: (most) => `At most ${most} letters.`,
    unkept: 'This phone did not keep it. It is here until you close Wrackbook.',
    wrong: 'Something is not right yet. It is said beside it.',
  },

  go: {
    title: 'Go or no-go',
    startBack: 'START BACK',
    /** @param {string} time */
    offBy: (time) => `off the rocks by ${time}`,
    /** @param {string} from @param {string} to */
    usable: (from, to) => `usable ${from} – ${to}`,
    noWindow: 'No window is planned: there is no start back and no off by.',
    /** @param {string} time */
    due: (time) => `due back ${time}`,
    verdict: {
      no: 'Do not go',
      /** @param {number} n */
      open: (n) => `Not checked: ${n}`,
      nothing: 'Nothing on this list speaks against it',
    },
    look: 'Look at the sea when you are there. It decides, and so do the coastguard and the local authorities.',
    openWhy: 'What is not checked is not fine.',
    state: { fine: 'fine', no: 'speaks against it', open: 'not checked', stale: 'checked too long ago' },
    /** @param {string} when */
    at: (when) => `checked ${when}`,
    yes: 'Fine',
    against: 'Speaks against it',
    again: 'Change the answer',
    words: 'What you found (may stay empty)',
    keep: 'Keep it',
    /** @param {string} unit */
    swell: (unit) => `Swell forecast (${unit})`,
    needSwell: 'Write the swell as a number, such as 0.8.',
    names: {
      swell: 'Swell', wind: 'Wind from the sea', storms: 'Storms and thunder', rain: 'Rain of three days', temperature: 'Heat and cold',
      animals: 'Stinging and biting animals', kit: 'Gear', party: 'Party', ashore: 'Somebody ashore', light: 'Light', nightChildren: 'Children in the dark',
      lamps: 'Lamps', window: 'Window',
    },
    asks: {
      /** @param {string} limit */
      swell: (limit) => `Your limit for this shore is ${limit}. What does the forecast say for these hours?`,
      swellNone: 'No limit is set for this shore. What does the forecast say, and is it calm enough for the slowest of you? Long swell breaks high after quiet minutes.',
      wind: 'Wind from the sea raises the water and the waves. Is it light over these hours?',
      storms: 'Is the forecast free of storms and thunder? At the first thunder you leave, and thirty minutes begin again at each clap.',
      rain: 'Heavy rain brings dirty run-off, loose cliffs and closures. Were the last three days without it, and is the shore open?',
      temperature: 'Is it neither too hot nor too cold for the smallest of you, wind and wet included?',
      animals: 'Do you know what stings or bites here at this season, and is nobody likely to handle it?',
      lamps: 'Has each of you a lamp of their own, charged, and somebody who knows the way by night?',
    },
    why: {
      /** @param {string} swell @param {string} limit */
      overSwell: (swell, limit) => `Swell of ${swell}; your limit for this shore is ${limit}.`,
      noKit: 'There is no list of gear yet.',
      /** @param {string[]} what */
      unpacked: (what) => `Not packed: ${listed(what)}.`,
      packed: 'Everything on the list is packed.',
      nobody: 'Nobody is down to come.',
      alone: 'You go alone. Go in pairs or more; if you still go, somebody ashore must know the place and the time, and act.',
      noAdult: 'Children go with no adult.',
      /** @param {string} name */
      noNumber: (name) => `${name} has no number to wear.`,
      /** @param {number} n */
      sameNumber: (n) => `Two children wear number ${n}.`,
      /** @param {string} name */
      noBuddy: (name) => `${name} goes with nobody.`,
      noWatcher: 'No adult only watches. With children, one watches the sea and the children, and neither logs nor gathers.',
      /** @param {number} n */
      partyFine: (n) => `${count(n, 'person', 'people')}; each child has a number and somebody.`,
      nobodyAshore: 'Nobody ashore knows.',
      aloneUnknown: 'You go alone and nobody ashore knows.',
      dueBackPassed: 'Due back has passed.',
      /** @param {string} who */
      ashoreFine: (who) => `${who} knows.`,
      lightUnknown: 'Whether it gets dark in these hours is not known here.',
      lit: 'The sun is up all the time.',
      nightAllowed: 'A part of it is dark. Gathering in the dark is allowed here, as the shore’s page says. In the dark nobody sees a wave come.',
      nightForbidden: 'A part of it is dark, and gathering in the dark is forbidden here.',
      nightUnknown: 'A part of it is dark, and whether gathering in the dark is allowed here is not known. Ask the authority, then write it on the shore’s page.',
      childrenMay: 'The household lets children come in the dark.',
      childrenMayNot: 'The household does not take children out in the dark, and there are children in the party.',
      childrenUnsaid: 'There are children in the party, and the household has not said whether they may come in the dark. A keeper says it in House.',
      windowPassed: 'The window has passed.',
      noWindow: 'No window is planned.',
    },
    change: 'Change the plan',
    slate: 'Slate to print',
    stay: 'We stay ashore',
    goOn: 'We go: set the two alarms',
    goAnyway: 'Go all the same',
    goAsk: 'Go all the same?',
    /** @param {string[]} reasons */
    goWhat: (reasons) => `This speaks against it: ${reasons.join(' ')} The decision and these reasons stay in the book.`,
    /** @param {string} when */
    decidedGo: (when) => `You decided to go, ${when}.`,
    /** @param {string} when */
    decidedStay: (when) => `You decided to stay ashore, ${when}.`,
    /** @param {string} reasons */
    inSpite: (reasons) => `In spite of: ${reasons}`,
    under: 'This outing is under way.',
    toStaff: 'To the staff',
    ended: 'This outing is over.',
    party: 'Party',
    gear: 'Gear and containers',
  },

  tell: {
    title: 'Tell somebody ashore',
    why: 'Wrackbook alerts nobody. The one who reads this message does.',
    share: 'Share the plan',
    copied: 'Copied. Paste it into a message.',
    byHand: 'Copy this by hand:',
    message: {
      /** @param {string} shore @param {string} day */
      where: (shore, day) => `We go to the shore: ${shore}, ${day}.`,
      /** @param {string} position */
      position: (position) => `Position: ${position}`,
      /** @param {string} zone */
      zone: (zone) => `Times on the shore’s clock (${zone}).`,
      /** @param {number} adults @param {number} children @param {string[]} names of adults */
      who: (adults, children, names) => `We are ${[adults > 0 && count(adults, 'adult', 'adults'), children > 0 && count(children, 'child', 'children')].filter(Boolean).join(' and ')}${names.length > 0 ? `: ${listed(names)}${children > 0 ? ' and the children' : ''}` : ''}.`,
      /** @param {string} from @param {string} to */
      window: (from, to) => `On the rocks from ${from} to ${to}.`,
      /** @param {string} back @param {string} off */
      limits: (back, off) => `Start back ${back}, off the rocks by ${off}.`,
      noWindow: 'We keep our own times; no window was reckoned.',
      /** @param {string} time @param {string} who */
      due: (time, who) => `Due back ${time}.${who ? ` ${who}, you are the one who knows.` : ''}`,
      /** @param {string} time @param {number} grace */
      late: (time, grace) => `If you have not heard from us by ${time} (${grace} minutes later): try to reach us, once. Then call and say where we are and how many we are:`,
      noDue: 'No time is set at which we are due back. Ask us for one before we go.',
      /** @param {string} what @param {string} number */
      number: (what, number) => `${what}: ${number}`,
      noNumbers: 'the emergency number of the country; ask for the coastguard.',
      /** @param {string} way */
      escape: (way) => `If the way back is cut we go here and wait: ${way}`,
      nobody: 'No program alerts anybody: it is you who notice that we are late.',
    },
  },

  help: {
    link: 'Emergency',
    back: 'Shore',
    title: 'Emergency',
    callFirst: 'Call first',
    first: 'Call first. The person on the phone knows more than this page.',
    noNumbers: 'The household has written down no number. A keeper does so in House, before the next outing.',
    toHousehold: 'Write the numbers down',
    /** @param {string} what @param {string} number */
    call: (what, number) => `Call ${what}: ${number}`,
    // Directive (EU) 2018/1972, article 109; for the United Kingdom the lifeboat charity's advice on tidal cut-off.
    known: {
      eu: { number: '112', what: 'emergency', why: '112 is the single emergency number in the European Union (Directive 2018/1972). Ask for the coastguard.' },
      gb: { number: '999', what: 'coastguard', why: 'In the United Kingdom 999 or 112. Ask for the coastguard.' },
    },
    cutTitle: 'Cut off by the tide',
    cut: ['Do not enter the water.', 'Call.', 'Go as high as you can, stay there and stay visible.', 'Keep together. Count heads.'], // thanetrnlicommunitysafety.org.uk, southport-lifeboat.org.uk; counting heads is common practice
    /** @param {string} way */
    escape: (way) => `Way of escape here: ${way}`,
    noEscape: 'No way of escape is written down for this shore.',
    sayTitle: 'Read this aloud',
    shore: 'We are at',
    noShore: 'No shore is chosen on this phone. Say the beach, the town, what you see.',
    /** @param {number} n */
    people: (n) => `We are ${count(n, 'person', 'people')}.`,
    /** @param {number} n */
    withChildren: (n) => ` ${count(n, 'of us is a child', 'of us are children')}.`,
    shorePlace: 'The shore as the book has it:',
    stationPlace: 'The place on file is that of the tide station, which may be kilometres away. Say the name of the shore.',
    ours: 'Our position:',
    locating: 'Asking the phone where it is…',
    fixAgain: 'Ask the phone again',
    /** @param {number} metres */
    accuracy: (metres) => `within ${metres} m`,
    now: 'found just now',
    /** @param {string} long */
    age: (long) => `found ${long} ago`,
    old: 'This is an old position. You may have moved since.',
    refused: 'This phone may not tell where it is. Say the shore’s name and what you see.',
    slow: 'This phone does not find out where it is. Under the open sky it may. Say the shore’s name and what you see.',
    none: 'This browser cannot tell where it is. Say the shore’s name and what you see.',
    sayMore: ['What has happened.', 'How many you are, and who is hurt.', 'Where the water stands, and whether it rises.', 'The number of this phone. Then stay on the line.'],
    alerts: 'Wrackbook alerts nobody. A phone that sleeps cannot warn.',
    spoken: {
      digits: ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'],
      point: 'point',
      sides: { N: 'north', S: 'south', E: 'east', W: 'west' },
      /** @param {string} degrees @param {string} minutes @param {string} side */
      position: (degrees, minutes, side) => `${degrees} degrees, ${minutes} minutes ${side}`,
    },
  },

  aid: {
    title: 'First aid, by animal',
    first: 'Call first, then ask the person on the phone before you do any of this.',
    /** @param {string} country */
    yours: (country) => `On file for ${country}: Australia’s and New Zealand’s resuscitation guidelines, in excerpt and not yet confirmed.`,
    other: 'The advice on file is that of Australia and New Zealand, in excerpt and not yet confirmed. That of your country differs, for the same kind of animal too: ask the person on the phone.',
    unsaid: 'The household has not said in which country it is. The advice on file is that of Australia and New Zealand, in excerpt and not yet confirmed; that of other countries differs.',
    countries: { AU: 'Australia', NZ: 'New Zealand' },
    show: 'Show what is on file for Australia and New Zealand',
    source: 'ANZCOR guideline series 9.4, Australia and New Zealand; excerpt, not confirmed.',
    /** @type {[string, string][]} */
    animals: [
      ['Jellyfish of the tropics that can kill', 'Vinegar for at least 30 seconds. Resuscitation.'],
      ['Bluebottle', 'No vinegar. Hot water of about 45 °C for 20 minutes.'],
      ['Spines of fish, stingray', 'Hot water of about 45 °C for 20 minutes; an adult tests it first.'],
      ['Blue-ringed octopus', 'Pressure immobilisation and resuscitation. Ask how.'],
      ['Cone shell', 'Pressure immobilisation and resuscitation. Ask how.'],
    ],
    others: 'Another animal, or you do not know which',
    othersSay: 'Nothing is on file. There is no one rule for jellyfish or for spines. Call, say what it looked like, do what you are told.',
    hands: 'Never handle an animal with bare hands that you do not know. An empty shell, can or bottle may hold one.',
  },

  slate: {
    title: 'Slate',
    print: 'Print the slate',
    why: 'One sheet for a clipboard and a pencil. What is pencilled on it is entered at the car.',
    catchUp: 'Enter what was pencilled',
    startBack: 'START BACK',
    offBy: 'OFF THE ROCKS BY',
    dueBack: 'DUE BACK',
    low: 'low water',
    ashore: 'Ashore knows',
    heads: 'Heads, every 15 minutes and at start back',
    party: 'Party',
    child: 'child',
    with: 'with',
    finds: 'Finds',
    columns: { time: 'Time', what: 'What', amount: 'How many', who: 'Who', seen: 'seen', taken: 'taken' },
    numbers: 'Call',
    noNumbers: 'no number is written down',
    place: 'Position of the shore',
    station: 'of the station, not the shore',
    escape: 'Way of escape',
    none: 'none known',
    limits: 'What the authority told us: ______________________________',
    foot: 'Predicted from sun and moon only. Look at the sea; turn earlier if it is higher than shown. Leave at the first thunder. This sheet alerts nobody.',
  },

  catchUp: {
    title: 'Catch up from the slate',
    why: 'Row by row, as it stands on the paper.',
    time: 'Time',
    kind: 'What it was',
    kindHint: 'Empty means unsure.',
    unsure: 'unsure',
    amount: 'How many',
    who: 'Who',
    nobody: 'not written',
    fate: 'Seen or taken',
    seen: 'seen',
    taken: 'taken',
    add: 'Keep this row',
    needTime: 'Write a time such as 14:05.',
    needAmount: 'Write a number from 1 to 9999, or leave it empty.',
    /** @param {string} time */
    future: (time) => `${time} on that day is still to come.`,
    /** @param {string} what */
    kept: (what) => `Kept: ${what}.`,
    unsureTaken: 'Unsure, and taken: an adult should look at it at home before it goes into a tank.',
    /** @param {number} n */
    entered: (n) => `Entered from the slate: ${n}`,
    undo: 'Take back',
    done: 'Done',
  },

  household: {
    title: 'Household',
    hint: 'Country, numbers to call, children in the dark',
    others: 'A keeper writes this.',
    name: 'Name of the household',
    country: 'Country',
    countryHint: 'Two letters, such as FR or NZ. First aid and numbers go by it.',
    needCountry: 'Write the two letters of the country, such as FR or NZ.',
    numbers: 'Numbers to call',
    numbersHint: 'The coastguard first. They stand on the emergency card, on the slate and in the message to the one ashore.',
    noNumbers: 'No number is written down yet.',
    what: 'Who answers',
    number: 'Number',
    needWhat: 'Write who answers, such as “Coastguard”.',
    needNumber: 'Write a telephone number: digits, with + # * and spaces if need be.',
    add: 'Add the number',
    grace: 'Grace (minutes)',
    graceHint: 'So long after due back the one ashore calls for help.',
    needGrace: 'Write whole minutes from 0 to 240.',
    night: 'May children come when it is dark?',
    nightAnswers: { yes: 'Yes', no: 'No', unsaid: 'Not said yet' },
    unsaid: 'not said',
    save: 'Keep it',
    saved: 'Kept.',
  },

  measures: {
    title: 'Units',
    hint: 'Metric or imperial, on this phone',
    why: 'How this phone shows heights, amounts and distances. The book stays metric, and so do the forms.',
    metric: 'Metres, grams, millilitres',
    imperial: 'Feet, ounces, US fluid ounces',
  },
};
