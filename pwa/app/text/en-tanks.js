// What Tanks says of its home, its systems and specimens, checks and settling in.

const days = (/** @type {number} */ n) => (n === 1 ? '1 day' : `${n} days`);

export const tanks = {
  title: 'Tanks',
  unnamed: 'Not named',
  back: 'Tanks',
  gone: 'This is not on file on this phone. It may have been taken off, or has not come yet.',
  reads: 'This phone reads only. Whoever looks after the tanks notes it on another.',
  unkept: 'This phone could not keep it. It is on the screen alone: write it down, make room on the phone, try again.',
  and: (/** @type {string[]} */ list) => (list.length < 2 ? list.join('') : `${list.slice(0, -1).join(', ')} and ${list[list.length - 1]}`),
  /** Three names at most. */
  few: (/** @type {string[]} */ list) => tanks.and(list.length > 3 ? [...list.slice(0, 2), `${list.length - 2} others`] : list),
  days,

  // How it stands
  notReckoned: 'Not reckoned',
  reckoning: 'Not reckoned yet. How the tanks stand comes in a moment.',
  reckoningFailed: 'Not reckoned: the part of Wrackbook that reckons does not answer. What you note is kept. Clear nothing until it answers.',
  old: (/** @type {string} */ age) => `As reckoned ${age} ago. What was noted since is not in it: clear nothing by it.`,
  comingBook: 'The household’s book is still coming to this phone. What stands here is not all of it: clear nothing by it.',
  again: 'Reckon again',
  minutes: (/** @type {number} */ n) => (n < 60 ? `${n} min` : n < 48 * 60 ? `${Math.round(n / 60)} h` : days(Math.round(n / 1440))),
  unread: (/** @type {number} */ n) => `${n === 1 ? 'One record cannot' : `${n} records cannot`} be read here. Until it can, nobody is cleared: it may be a sign. Look for a new version of Wrackbook in House.`,
  states: { waiting: 'Waiting', paused: 'Paused', stopped: 'Stopped', done: 'Wait done', empty: 'Empty', none: 'No quarantine' },
  quiet: (/** @type {number} */ n, /** @type {number} */ of) => `${n} of ${of} quiet days`,
  ends: (/** @type {string} */ day) => `wait done on ${day} at the earliest`,
  endsNot: 'no end in sight while a sign is open',
  doneSince: 'The wait is done. That says how long it was watched, and that no signs were seen on the days that count, nothing more.',
  residents: (/** @type {number} */ n) => (n === 0 ? 'nobody in it' : n === 1 ? '1 resident' : `${n} residents`),

  // The strip of days
  kinds: { quiet: 'quiet', unwatched: 'not watched', paused: 'paused', restarted: 'began anew', stopped: 'stopped', done: 'wait done', today: 'today' },
  legend: {
    title: 'What the shapes mean',
    quiet: 'Quiet day: looked at, no signs seen, an adult said so. It counts.',
    unwatched: 'Not watched: nobody looked at everyone in it. It does not count.',
    paused: 'Paused: a sign was open, nobody looked for more than 48 hours, or an adult’s word was missing. It does not count.',
    restarted: 'Began anew: the wait started from nothing.',
    stopped: 'Stopped: the authority must hear of it. Nothing counts.',
    done: 'Wait done: every day asked for is behind it.',
    today: 'Today: still open.',
  },
  stripOf: (/** @type {number} */ n, /** @type {string} */ runs) => `The last ${days(n)}: ${runs}`,
  stripNone: 'No days of quarantine yet.',
  run: (/** @type {string} */ from, /** @type {string} */ to, /** @type {string} */ is) => `${from === to ? from : `${from} to ${to}`} ${is}`,
  earlier: (/** @type {number} */ n) => `${days(n)} before these are left out`,
  strip: 'Day by day',

  // Why a day does not count, and what began the wait
  causes: /** @type {Record<string, string>} */ ({
    newcomer: 'somebody new came in', sign: 'a sign was seen', death: 'a death that nobody could explain', treatment: 'a treatment that was not planned',
    water: 'water came from another system or straight from the shore', joined: 'tanks were joined', settled: 'the stop was lifted', started: 'the quarantine began',
    gap: 'nobody looked for more than 48 hours', unconfirmed: 'an adult’s word is missing', 'open sign': 'a sign was open', notify: 'the authority must hear of what was found',
  }),
  since: (/** @type {string} */ day, /** @type {string} */ why) => `The wait began on ${day}: ${why}.`,
  sinceWhy: (/** @type {string} */ why) => `Why it began: ${why}.`,
  stoppedWhat: 'Everything stands still: nobody and no water leaves or joins until the authority has been heard. Then the wait starts from nothing.',
  pausedWhy: {
    sign: 'Paused: a sign is open. Days count again when an adult has looked into it.',
    gap: 'Paused: nobody has looked for more than 48 hours. The next check starts it again; the days between do not count.',
  },
  waitBy: {
    own: (/** @type {number} */ n) => `${days(n)}, as your household set it.`,
    longest: (/** @type {number} */ n, /** @type {string} */ who, /** @type {boolean} */ cold) => `${days(n)}, the longest that anybody in it needs: ${who}${cold ? ', and longer because the water was colder than 10 °C' : ''}.`,
    plain: (/** @type {number} */ n, /** @type {boolean} */ cold) => `${days(n)}${cold ? ', longer because the water was colder than 10 °C' : ''}.`,
  },
  looked: (/** @type {string} */ when) => `Last looked at ${when}.`,
  lookedNot: 'Nobody has looked yet.',

  home: {
    due: 'To do', dueNone: 'Nothing is due.',
    systems: 'Systems', systemsHint: 'Tanks that share water are one system and have one clock. A jar alone is a system of its own.',
    specimens: 'Who lives here', search: 'Find by name', found: (/** @type {number} */ n) => (n === 1 ? '1 shown' : `${n} shown`),
    more: 'Show more', goneList: (/** @type {number} */ n) => `No longer here (${n})`,
    running: (/** @type {string} */ who) => `On the way from bag to tank: ${who}`,
    walk: 'Walk the jars', newTank: 'Add a tank or jar', newSpecimen: 'Add a specimen', newSystem: 'Join tanks to a system', trouble: 'Something is wrong: what to do now', more_: 'More for the tanks',
    zone: (/** @type {string} */ zone) => `Days are counted on the clock of ${zone}.`, zoneUnsaid: 'That is this phone’s clock: on a phone elsewhere the days would be others.', zoneKeep: (/** @type {string} */ zone) => `${zone} is the clock of our home`, zoneKept: 'Kept for the whole household.',
    emptyTitle: 'Nothing lives here yet',
    empty: 'What you bring home waits in a tank of its own, watched day by day, before it joins the others. Wrackbook keeps the days.',
    emptySteps: ['Add the jar or tank that it waits in, and say that it is a quarantine.', 'Settle in what you took: from the page of the outing, all in one touch. What came from elsewhere you add by hand.', 'Look every day. One touch says that no signs were seen.'],
    settle: (/** @type {number} */ n, /** @type {string} */ shore) => `${n} taken on ${shore}: settle them in`,
    settleAny: (/** @type {number} */ n) => `${n} taken: settle them in`,
    tools: 'Water and mixing', numbers: 'Days by group', companions: 'Who harms whom', ticks: 'Weekly tick sheet', labels: 'Labels',
  },

  due: {
    overdue: 'Overdue', since: (/** @type {string} */ day) => `since ${day}`,
    check: (/** @type {string} */ where) => `Look at ${where}`,
    each: 'One by one',
    many: {
      check: (/** @type {number} */ n) => `${n} systems to look at`, confirm: (/** @type {number} */ n) => `${n} systems with days that wait for an adult’s word`, sign: (/** @type {number} */ n) => `${n} signs are open`,
      question: (/** @type {number} */ n) => `${n} clearances do not stand`, clear: (/** @type {number} */ n) => `${n} whose wait is done`, search: (/** @type {number} */ n) => `${n} to search by torch, in the dark`, dip: (/** @type {number} */ n) => `${n} to dip`,
      topUp: (/** @type {number} */ n) => `${n} systems to top up`, waterChange: (/** @type {number} */ n) => `${n} systems to change water in`, read: (/** @type {number} */ n) => `${n} systems whose salinity and temperature to read`, trim: (/** @type {number} */ n) => `${n} to trim`,
    },
    confirm: (/** @type {string} */ where, /** @type {string} */ list, /** @type {number} */ n) => `${where}: ${list} ${n === 1 ? 'waits' : 'wait'} for an adult’s word`,
    sign: (/** @type {string} */ where, /** @type {string} */ what) => `${where}: a sign is open${what ? `, “${what}”` : ''}`,
    ask: (/** @type {string} */ where) => `${where}: stopped. Ask the authority`,
    question: (/** @type {string} */ who) => `${who}: the clearance does not stand`,
    questionWater: (/** @type {string} */ where) => `${where}: the display had water of an unfinished wait`,
    dip: (/** @type {string} */ who) => `Dip ${who}`,
    search: (/** @type {string} */ who) => `Search ${who} by torch, in the dark`,
    read: (/** @type {string} */ where) => `Read salinity and temperature of ${where}`,
    clear: (/** @type {string} */ who) => `${who}: the wait is done`,
    waterChange: (/** @type {string} */ where) => `Change water of ${where}`,
    topUp: (/** @type {string} */ where) => `Top up ${where}`,
    trim: (/** @type {string} */ who) => `Trim ${who}`,
    other: (/** @type {string} */ what, /** @type {string} */ where) => `${what}: ${where}`,
    do: {
      check: 'No signs seen', seen: 'Something seen', confirm: 'Confirm', confirmOne: 'Confirm it', look: 'Look into it', dip: 'Dipped', search: 'Searched, no signs', read: 'Read it', clear: 'Choose its display',
      waterChange: 'Note the change', topUp: 'Topped up', trim: 'Trimmed', walk: 'Walk the jars', open: 'Open',
    },
    label: (/** @type {string} */ does, /** @type {string} */ of) => `${does}: ${of}`,
    done: {
      check: (/** @type {string} */ where) => `${where}: no signs seen.`, confirm: 'Confirmed.', dip: (/** @type {string} */ who) => `${who}: dip noted.`, search: (/** @type {string} */ who) => `${who}: searched, no signs seen.`,
      topUp: (/** @type {string} */ where) => `${where}: topped up.`, trim: (/** @type {string} */ who) => `${who}: trimmed.`,
    },
    undo: 'Take it back', undone: 'Taken back.',
    child: 'An adult does this.',
  },

  who: {
    legend: 'Who looks?', nobody: 'Nobody named',
    needAdult: 'Only a day that an adult of the household has seen counts. Say who looks.',
    noMembers: 'Say in House who belongs to the household: only a day that an adult on that list has seen counts.',
    toMembers: 'Open the list',
    child: 'Your look is kept. An adult confirms the day.',
    as: (/** @type {string} */ name) => `Looks noted as ${name}.`, change: 'Somebody else',
  },

  settleIn: {
    title: (/** @type {string} */ shore) => (shore ? `Settle in from ${shore}` : 'Settle in'),
    none: 'Nothing was taken on this outing.', all: 'Everything taken on this outing is settled in already.',
    some: (/** @type {number} */ n) => (n === 1 ? 'One more is settled in already.' : `${n} more are settled in already.`),
    where: 'They wait in', free: 'nobody in it', newTank: 'A new quarantine tank', newJars: (/** @type {number} */ n) => `${n} new jars, one each`, tank: 'Quarantine', jar: 'Jar',
    eachJar: (/** @type {number} */ n) => `${n} new jars, one each: every jar keeps its own days, and all know where they come from.`,
    litres: 'Litres, if you know', litresEach: 'Litres in each, if you know', needLitres: 'Litres are a number above 0 and up to 10,000, such as 2.5.',
    restarts: (/** @type {number} */ n) => `${n === 1 ? 'One lives' : `${n} live`} there already. Newcomers start the wait from nothing for everybody in that water.`,
    noDisplay: 'Displays are not on this list: newcomers wait first.',
    list: (/** @type {number} */ n) => (n === 1 ? '1 comes in' : `${n} come in`),
    base: 'How it was taken', bases: { unsaid: 'Nobody said', cut: 'Cut above the holdfast', holdfast: 'With its holdfast', stone: 'On its stone' },
    jars: 'Into', jarsN: (/** @type {number} */ n) => (n === 1 ? '1 place' : `${n} jars`),
    water: 'Never pour the water they travelled in into a tank, and never into the sea or a drain that runs there.',
    do: (/** @type {number} */ n) => (n === 1 ? 'Settle it in' : `Settle in ${n}`),
    done: (/** @type {number} */ n) => (n === 1 ? '1 settled in. Its days are counted from tomorrow.' : `${n} settled in. Their days are counted from tomorrow.`),
    undone: 'Taken back. Nothing is settled in.',
    next: 'Now from bag to tank: match temperature and salinity first.', acclimate: 'Plan the way from bag to tank', toTanks: 'To the tanks',
  },

  grades: { harmless: 'Harmless', watch: 'Watch', pest: 'Pest', notify: 'To be reported', unsure: 'Not sure' },

  signs: {
    title: (/** @type {number} */ n) => (n === 1 ? 'A sign is open' : `${n} signs are open`),
    nameless: 'Something was seen',
    kind: (/** @type {string} */ who) => `${who}: a protected or invasive kind`,
    means: {
      harmless: 'It changes nothing. It is noted.', watch: 'The wait stands still until an adult has looked into it.',
      pest: 'The wait starts from nothing for everybody in this water, and no day counts until it is settled.',
      unsure: 'It counts as a sign of disease until somebody knows better: the wait starts from nothing for everybody in this water.',
      notify: 'Everything in this water stops. The authority must hear of it.',
    },
    short: { harmless: 'changes nothing', watch: 'the wait stands still', pest: 'the wait starts anew', notify: 'everything stops' },
    doNow: {
      watch: 'Look again tomorrow, with a photo. Share nothing between this water and another: no nets, no hands, no water.',
      pest: 'Take it out if you can do so whole, and look again in the dark. Share nothing between this water and another.',
      unsure: 'Take a photo, ask somebody who knows. Share nothing between this water and another.',
      harmless: '',
    },
    notifySteps: ['Stop: nothing leaves this water and nothing joins it. No nets, no hands, no water to another tank.', 'Isolate: keep the lid on, put this tank last on your round, wash your hands after it.', 'Do not release it, give it away or bin it, and pour none of its water down a drain.', 'Take photos. Write down where and when it was found.', 'Ask the authority for fisheries, invasive species or animal health where you live, and do what it says. Write its answer here.'],
    kindSteps: ['Stop: nothing leaves this water and nothing joins it. No nets, no hands, no water to another tank.', 'Do not release it, give it away or bin it: a piece of 2 mm may live on.', 'Ask the authority what the law wants done with it, and do that.', 'If it was named wrongly, name the find anew: the stop is lifted by that.'],
    seen: (/** @type {string} */ on, /** @type {string} */ when, /** @type {string} */ by) => `Seen${on ? ` on ${on}` : ''}, ${when}${by ? `, by ${by}` : ''}.`,
    adult: 'An adult looks into it.', keeper: 'Only a keeper can say that it may be kept.',
    grade: 'Grade it anew', gradeHint: 'For whoever knows what it is. The days are reckoned again as if it had been graded so at once.', graded: (/** @type {string} */ is) => `Graded: ${is}.`,
    settle: 'Settle it', settleHint: 'Say what it was and how it ended: “two amphipods, taken out”, “grew back, three days without”. A settled sign brings no lost day back.',
    settleNotify: 'Only with what the authority said. The wait then starts from nothing.', how: 'How it ended', needHow: 'Say in a few words how it ended: it stays in the book.', settleDo: 'It is settled', settled: 'Settled.',
    isolation: 'It may be kept', isolationHint: 'For a keeper whose household has a permit, or where the law allows the kind. Say which. It stays in the book.', reason: 'Why it may be kept', needReason: 'Say why it may be kept: it stays in the book.', isolationDo: 'It may be kept', isolationDone: 'Noted. The wait starts from nothing.',
  },

  system: {
    title: 'System', check: 'Look at it', reading: 'Read the water', change: 'Change water', lid: 'Sheet for the lid', history: 'History',
    residents: 'Who lives in it', nobody: 'Nobody lives in it.', itsWater: 'Its water', none: 'None of its tanks is a quarantine, so no days are counted.',
    waits: 'It waits', future: (/** @type {number} */ n) => `${n === 1 ? 'One event is' : `${n} events are`} dated ahead of now. Nobody is cleared until that is put right: take it back in the log and note it anew.`,
    question: 'In question', questionWhat: 'By what is on file now, somebody was let into this display before the wait was done, or its water was not done. Treat it as a quarantine until a keeper has decided.',
    unconfirmed: 'Days that wait for an adult’s word', unconfirmedWhy: 'Somebody looked and saw no signs. A day counts when an adult confirms it.', confirmAll: 'Confirm them all', confirmed: (/** @type {number} */ n) => `${days(n)} confirmed.`,
    by: (/** @type {string} */ names) => (names ? `${names} looked, no signs seen` : 'looked at, no signs seen'),
    itsTank: 'Its tank', tanks: 'Tanks that share this water', noTanks: 'No tank stands in it yet.', uses: { holding: 'holding', quarantine: 'quarantine', display: 'display' },
    leave: 'Take out', leaveAsk: (/** @type {string} */ name) => `Take ${name} out of this water?`, leaveWhat: 'From then on it has a clock of its own, with the days that are behind it.', leaveDo: 'Take it out', left: (/** @type {string} */ name) => `${name} stands alone now.`,
    join: 'Join a tank to this water', joinNone: 'Choose a tank', joinDo: 'Join it', joinAsk: (/** @type {string} */ tank, /** @type {string} */ system) => `Join ${tank} to ${system}?`,
    joinBoth: (/** @type {number} */ n) => `The wait starts from nothing for all ${n} who then share this water.`, joinFresh: 'A tank that held nobody brings nothing with it.', joined: (/** @type {string} */ name) => `${name} is joined.`,
    joinHint: 'A shared pump, net or bucket joins waters too.',
    new: 'Join tanks to a system', newWhat: 'Tanks that share water share one clock: the last to come in and the last sign count for all of them.', needTanks: 'Choose at least one tank.', newDo: 'Join them',
  },

  protocol: {
    title: 'Name and protocol', what: 'Leave the days empty and the resident that needs longest decides. Your own number stands before it: take one at least as long.', name: 'Name', needName: 'Give it a name.',
    days: 'Quiet days', daysHint: '1 to 365', dips: 'Dips', dipsHint: '0 to 20, of each', needDays: 'Quiet days are a whole number from 1 to 365.', needDips: 'Dips are a whole number from 0 to 20.', every: 'What comes round, in days', everyHint: '1 to 365; empty is never asked for', needEvery: 'Days are a whole number from 1 to 365, or empty.', rhythms: { waterChangeDays: 'Change water', topUpDays: 'Top up', readDays: 'Read the water', trimDays: 'Trim' }, save: 'Save', saved: 'Saved.',
  },

  numbers: {
    title: 'Days of quarantine by group', what: 'What Wrackbook asks for, with its source, and your household’s own number where you have one. Colder than 10 °C it asks for half as long again. Weed with its holdfast or stone never waits less than the number here.',
    ours: (/** @type {number} */ n, /** @type {string} */ from) => `${days(n)} (${from})`, yours: 'Your own days', own: (/** @type {string} */ group) => `Your own days for ${group}`, less: 'Less than is asked for here: you take more of a risk.', need: 'Days are a whole number from 1 to 365, or empty.', save: 'Save', saved: 'Saved. Every wait is reckoned by it from now on.', coming: 'The numbers come in a moment.', reads: 'A keeper sets these.', also: 'Night searches: two, 7 to 10 days apart, for weed that was not cut above its holdfast.',
  },

  log: {
    title: 'What happened', none: 'Nothing is noted yet.', asPlanned: 'as planned',
    arrived: (/** @type {string} */ tank) => `arrived in ${tank}`, moved: (/** @type {string} */ tank) => `moved to ${tank}`, cleared: (/** @type {string} */ tank) => `cleared into ${tank}`,
    checked: 'looked at, no signs seen', checkedElse: 'looked at, nothing else seen', searched: 'searched in the dark, no signs seen', seen: (/** @type {string} */ what) => `looked at, seen: ${what}`,
    sign: (/** @type {string} */ what, /** @type {string} */ grade) => `sign: “${what}” (${grade.toLowerCase()})`, confirmed: (/** @type {string} */ day) => `${day} confirmed as quiet`, settled: (/** @type {string} */ how) => `sign settled: ${how}`,
    dipped: (/** @type {string} */ how, /** @type {boolean} */ planned) => `dip, ${planned ? 'of the protocol' : 'not planned'}: ${how}`, treated: (/** @type {string} */ how, /** @type {boolean} */ planned) => `treatment, ${planned ? 'of the protocol' : 'not planned'}: ${how}`,
    parted: (/** @type {string} */ into) => `a part of it became ${into}`, merged: (/** @type {string} */ into) => `put together with ${into}`, joined: (/** @type {string} */ name) => `joined ${name}`, left: (/** @type {string} */ name) => `left ${name}`,
    waterChanged: (/** @type {string} */ litres, /** @type {string} */ from) => (litres ? `${litres} of water changed, from ${from}` : `water shared, from ${from}`), from: { clean: 'clean water', stored: 'stored water', shore: 'the shore', system: 'another system' },
    trimmed: (/** @type {string} */ much) => `trimmed${much ? `, ${much}` : ''}`, fed: (/** @type {string} */ what) => `fed${what ? `: ${what}` : ''}`,
    died: (/** @type {string} */ much, /** @type {string} */ why, /** @type {string} */ suspected) => `${much ? `${much} of it died` : 'died'}: ${why || `nobody knows why${suspected ? `, perhaps ${suspected}` : ''}`}`, gone: (/** @type {string} */ how, /** @type {string} */ to) => `${how}${to ? `, to ${to}` : ''}`,
    graduated: 'became the display, in place', overruled: (/** @type {string} */ what, /** @type {string} */ why) => `a keeper overruled ${what}: ${why}`, over: { clearance: 'the clock', isolation: 'the stop' },
    toppedUp: (/** @type {string} */ litres) => (litres ? `topped up with ${litres} of fresh water` : 'topped up to the line'), acclimated: 'brought from bag to tank', acclimates: 'on the way from bag to tank', acclimationOff: 'the way from bag to tank was broken off',
    off: 'Take back', offAsk: 'Take this back?', offWhat: 'The days are reckoned again as if it had not been noted. The history keeps it.', offDo: 'Take it back',
    notes: { 'before arrival': 'Changes nothing: it was not in any tank then.', 'no tank': 'Changes nothing: the tank did not stand there.', 'no specimen': 'Changes nothing: no specimen or tank is named.', 'unknown sign': 'Changes nothing: no such sign was open.', unlike: 'Changes nothing: the two are not of one kind.', child: 'Changes nothing: an adult must say so.', future: 'Dated ahead of now: it counts for nothing yet.', date: 'Its date cannot be: it counts for nothing.' },
  },

  specimen: {
    title: 'Specimen', clearedWord: 'Cleared', clearedNot: 'Its clearance does not stand', noClock: 'No days are counted here', stopped: 'Everything stands still', notArrived: 'No arrival on file', livesIn: 'Lives in', origin: 'Comes from',
    gone: { died: 'Died', merged: 'Put together with another', 'given away': 'Given away', 'disposed of': 'Disposed of', lost: 'Lost' },
    left: (/** @type {number} */ percent) => `${percent} % of it left`,
    from: (/** @type {string} */ shore, /** @type {string} */ when) => [shore, when].filter(Boolean).join(', '),
    missing: 'What is missing', may: 'No sign is open.', mayOver: 'A keeper has overruled the clock for it.', searched: (/** @type {string} */ list) => `Searched in the dark on ${list}.`,
    clearedOn: (/** @type {string} */ when) => `Cleared into the display on ${when}.`, clearedOver: 'A keeper let it go before its wait was done.',
    undone: 'Its clearance does not stand', undoneWhat: (/** @type {string} */ when) => `It was cleared on ${when}. By what has come in since, this was missing then:`, undoneDo: 'Its display is in question: treat it as a quarantine. A keeper decides what to do.',
    nowhere: 'No arrival is on file, so no day is counted. Say in which tank it is.',
    move: 'Move it', arrive: 'Say where it is', treat: 'Dip or treat', acclimate: 'From bag to tank', part: 'Part it', merge: 'Put together', died: 'It died', goneDo: 'It leaves', handOn: 'Hand it on', overrule: 'Overrule the clock', edit: 'Edit', recall: 'Call the lot back',
    family: 'Lot', partOf: 'Part of', clearTitle: (/** @type {string} */ name) => `A display for ${name}`, editTitle: (/** @type {string} */ name) => `Edit ${name}`,
  },

  missing: {
    arrival: 'No arrival is on file.', place: 'It stands in no quarantine.', stopped: 'Everything in its water is stopped: the authority must hear of what was found.', sign: 'A sign is open in its water.',
    days: (/** @type {number} */ n, /** @type {number} */ of) => `${n === 1 ? 'One quiet day of' : `${n} quiet days of`} ${of} ${n === 1 ? 'is' : 'are'} missing.`,
    daysThen: 'Quiet days were missing.', check: 'Nobody has looked for more than 48 hours.', dips: (/** @type {number} */ n, /** @type {number} */ of) => `${n} of ${of} dips are done.`,
    search: 'Two searches by torch in the dark, 7 to 10 days apart, are missing.', date: 'Something is dated ahead of now.', record: 'A record cannot be read on this phone.', water: 'The display had water of an unfinished wait.',
    other: (/** @type {string} */ word) => `Missing: ${word}.`,
  },
  missingShort: { arrival: 'no arrival', place: 'no quarantine', stopped: 'stopped', sign: 'an open sign', days: 'quiet days', check: 'nobody looked', dips: 'dips', search: 'night searches', date: 'a date', record: 'a record', water: 'water of an unfinished wait' },

  clear: {
    notYet: 'It cannot be cleared now.', changed: 'How it stands is being reckoned anew, has changed, or this phone’s clock is wrong. Nothing was cleared. Look again in a moment.', choose: 'Which display?', coming: 'Looking which displays fit.', noDisplay: 'No tank is marked as a display. Mark one on its page, or let this one become the display.',
    fits: 'Salinity and temperature fit.', fitsNot: 'Does not fit now', readIt: (/** @type {string} */ name) => `Read ${name}`,
    here: (/** @type {string} */ name) => `${name} becomes the display`, hereWhat: 'It stays where it is; nothing is moved.', hereLate: (/** @type {string} */ names) => `All in it would be cleared together, and ${names} cannot be yet.`, hereAll: (/** @type {number} */ n) => `All ${n} in it are cleared together.`,
    do: 'Clear it into the display', chooseFirst: 'Choose a display', done: (/** @type {string} */ name) => `${name} is cleared.`,
    words: 'The wait is done, and no signs were seen on the days that count. Nobody can know more than that.',
    cautionWhat: 'A caution, not a ban: many of them get on for months. Watch them.',
    missing: {
      display: 'It is no display, or its water is stopped.', salinity: 'The salinity is more than 1 apart.', temperature: 'The temperature is more than 2 °C apart.',
      salinityBy: (/** @type {string} */ gap, /** @type {boolean} */ up) => `Its salinity is ${gap} ${up ? 'higher' : 'lower'}: bring the two within 1 first.`, temperatureBy: (/** @type {string} */ gap, /** @type {boolean} */ up) => `It is ${gap} °C ${up ? 'warmer' : 'colder'}: bring the two within 2 °C first.`,
      'salinity reading': 'Salinity was not read in both within 48 hours.', 'temperature reading': 'Temperature was not read in both within 48 hours.',
      'display salinity': 'Its salinity is outside what it is kept within.', 'display temperature': 'Its temperature is outside what it is kept within.',
    },
  },

  move: {
    nowhere: 'There is no tank that it could go to yet.',
    title: (/** @type {string} */ name) => `Move ${name}`, to: 'Into which tank', none: 'Choose a tank', need: 'Choose the tank.', do: 'Move it', arriveDo: 'It is there now', done: (/** @type {string} */ name) => `${name}: noted.`,
    displays: 'Displays are not on this list: it comes to one when its wait is done.', signThere: 'A sign is open there: it holds for the newcomer too.', stopped: 'That water is stopped: nothing may join it.',
  },
  part: {
    title: (/** @type {string} */ name) => `Part ${name}`, what: 'The part becomes a specimen of its own. It keeps its origin and the days that are behind it.', name: 'A name for the part, if it has one', to: 'Where the part goes', stays: 'Stays where it is', tooMuch: (/** @type {string} */ has) => `There are ${has}: part less than that.`, do: 'Part it', done: (/** @type {string} */ name) => `${name} is parted.`,
  },
  merge: {
    title: (/** @type {string} */ name) => `Put ${name} together with another`, what: 'Of two of one kind one goes on, watched, dipped and searched only as far as both were.', with: 'With which', choose: 'Choose one', need: 'Choose the other one.', none: 'There is no other of its kind here.', do: 'Put them together', done: 'Put together.',
  },
  died: {
    title: (/** @type {string} */ name) => `${name} died`, known: 'Do you know why?', no: 'Nobody knows', yes: 'Yes', why: 'Why', whyHint: 'Such as: dropped, out of the water, old age of a short-lived kind', needWhy: 'Say why in a few words.', suspected: 'What do you suspect?', suspectedHint: 'Leave it empty if nothing',
    restarts: (/** @type {number} */ n) => (n <= 0 ? 'A death that nobody can explain starts the wait from nothing in its water.' : `A death that nobody can explain starts the wait from nothing for the ${n === 1 ? 'other one' : `${n} others`} in its water.`),
    percent: 'How much of it is lost, in percent', percentHint: 'Leave it empty if all of it is', number: (/** @type {number} */ n) => `How many of the ${n}`, numberHint: 'Leave it empty if all of them are', needPercent: 'Percent are a number above 0 and up to 100.', needNumber: (/** @type {number} */ n) => `Give a whole number from 1 to ${n}.`,
    then: 'Take it out with its own net, look at the others, read the water. Never put it into the sea or a drain that runs there.', do: 'Note it', done: (/** @type {string} */ name) => `${name}: noted. Look at the others now.`,
  },
  goneForm: {
    title: (/** @type {string} */ name) => `${name} leaves`, never: 'Nothing from a tank goes back to the sea, nor its water, nor its trimmings.', how: 'How it leaves', disposed: 'Disposed of', lost: 'Lost, nobody knows where', given: 'Given away', notGiven: (/** @type {string} */ why) => `It may not be given away now: ${why}.`, because: { stopped: 'everything in its water is stopped', waiting: 'its wait is not done', sign: 'a sign is open in its water', question: 'its display is in question', unidentified: 'nobody knows what it is', controlled: 'its kind may not be passed on' }, to: 'To whom', needTo: 'Say to whom, so that it can be called back.', stopped: 'Everything in its water is stopped: do not bin it before the authority has said what is to be done with it. Write its answer with the sign.', stale: 'How it stands is being reckoned anew, or has changed. Nothing was noted. Look again in a moment.', do: 'Note it', done: (/** @type {string} */ name) => `${name}: noted.`, disposal: 'How to dispose of it',
  },
  treat: {
    title: (/** @type {string} */ name) => `Dip or treat ${name}`, what: 'What was done', dipped: 'A dip', treated: 'A treatment', planned: 'Is it part of the protocol?', yes: 'Yes, planned', no: 'No, in haste', restarts: 'What was not planned starts the wait from nothing for everybody in its water.', how: 'How', howHint: 'Such as: fresh water of the same temperature, 60 s', needHow: 'Say in a few words what was done.', do: 'Note it', done: 'Noted.',
  },
  overrule: {
    title: (/** @type {string} */ name) => `Overrule the clock for ${name}`, what: 'You decide against the clock. What is missing:', missing: 'What is missing all the same:', holds: 'It holds until the next sign or newcomer in its water, and it stays in the book with your reason.', reason: 'Your reason', need: 'Give your reason: it stays in the book.', do: 'Overrule it', done: 'Overruled.', never: 'Everything in its water is stopped. That cannot be overruled: ask the authority first.',
  },
  specimenForm: {
    new: 'Add a specimen', newWhat: 'For what does not come from one of your outings. What you took on an outing is settled in from there.', name: 'A name, if it has one', nameHint: 'Such as: the big hermit', source: 'Where it comes from', sourceHint: 'Such as: a piece from Mara’s tank, May', origin: 'Wild or grown at home', origins: { wild: 'Wild', homeGrown: 'Grown at home', '': 'Not known' }, needSource: 'Say where it comes from, so that it can be called back.', note: 'Note', save: 'Save', saved: 'Saved.',
    remove: 'Take it off the book', removeAsk: (/** @type {string} */ name) => `Take ${name} off the book?`, removeWhat: 'For what was entered in error. What died or left is noted as such instead.', removeDo: 'Take it off', removed: 'Taken off.',
  },

  check: {
    title: (/** @type {string} */ name) => (name ? `Look at ${name}` : 'Look'), everybody: (/** @type {string} */ names) => `Everybody in it: ${names}.`, quiet: 'No signs seen', night: 'No signs, searched in the dark', seen: 'Something was seen', leave: 'Not now',
    words: '“No signs seen” says what you saw, of everybody in this water. It says nothing about what cannot be seen.', toTanks: 'To the tanks', toSystem: (/** @type {string} */ name) => `To ${name}`,
    on: 'On whom', onAll: 'In the water, or on nobody known', what: 'How it looks', found: 'Found on or with it', suggests: (/** @type {string} */ grade, /** @type {string} */ from) => `Mostly taken as: ${grade.toLowerCase()}${from ? ` (${from})` : ''}.`, own: 'In your own words', needWhat: 'Choose what was seen, or say it in your own words.', grade: 'How grave is it?', childGrade: 'An adult says how grave it is.', save: 'Note the sign',
    raised: (/** @type {string} */ what, /** @type {string} */ grade, /** @type {string} */ means) => `Noted: “${what}”, ${grade.toLowerCase()}. ${means}`,
  },

  walk: {
    title: 'Jar walk', none: 'Nobody lives in any tank.', what: 'Go along the shelf. Mark what you top up and where something is not as it was; the others looked the same.',
    line: (/** @type {string} */ note) => `Line: ${note}`, topUp: 'Topped up', topUpAll: 'All topped up to the line', seen: 'Something seen', not: 'Not looked at',
    doAll: (/** @type {number} */ n) => `All ${n} looked the same: no signs seen`, do: (/** @type {number} */ same, /** @type {number} */ seen) => `${same} looked the same, ${seen} did not`,
    noted: (/** @type {number} */ same, /** @type {number} */ tops) => `${same === 1 ? '1 look' : `${same} looks`} noted, no signs seen${tops > 0 ? `; ${tops} topped up` : ''}.`,
    seenIn: (/** @type {string} */ name, /** @type {number} */ n) => `${name}: what was seen?${n > 1 ? ` ${n - 1} more after this.` : ''}`, nothing: 'Nothing after all: leave it unwatched', over: 'The walk is done.',
  },
};
