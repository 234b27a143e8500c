// What the place Shore says of the water, the time to start back and an outing under way.

import { unit } from './unit.js';

/** @param {number} n minutes, @returns "0 h 52" */
const long = (n) => `${Math.floor(n / 60)} h ${String(n % 60).padStart(2, '0')}`;

export const staff = {
  noShore: 'Choose a shore in Plan first. Then the staff stands here, with the water as predicted and the time to start back.',
  toPlan: 'Go to Plan',
  goneShore: 'The shore of this outing is not on this phone. The times that were planned still hold.',
  doubt: 'The list of stations has changed since the heights of this shore were set. No water is shown until you have checked them in Plan.',
  toDoubt: 'Check them in Plan',

  head: {
    label: 'Start back',
    startBack: 'Start back',
    now: 'Start back now',
    off: 'Off the rocks now',
    /** @param {number} n */
    in: (n) => `in ${long(n)}`,
    /** @param {string} at */
    offBy: (at) => `off the rocks by ${at}`,
    /** @param {number} n */
    offIn: (n) => `in ${long(n)}`,
    /** @param {number} n */
    low: (n) => `low water in ${long(n)}`,
    /** @param {string} at */
    wasBack: (at) => `It was ${at}.`,
    /** @param {string} at */
    wasOff: (at) => `By ${at} you were to be off.`,
    offDo: 'Leave by the shortest way that is dry. If it is cut, stay out of the water, climb as high as you can, and call the coastguard or the emergency number.',
    backDo: 'Call everybody in and count heads. Leave what is heavy.',
    /** @type {Record<string, string>} */
    why: {
      plan: '', higher: 'Brought forward: the sea was seen higher than shown.',
      thunder: 'Thunder: leave now, by the shortest dry way. Keep off open ground and out of the water.',
    },
    ended: 'The outing is ended',
    none: 'Start back: not known',
    noneWhy: 'No window holds here now, so no time to start back is known. Stay where you can leave at any moment.',
    noneToday: 'No window today',
    over: 'Today’s window is over',
    /** @param {string} day @param {string} from @param {string} to @param {string} back */
    next: (day, from, to, back) => `Next: ${day}, ${from} – ${to}, start back ${back}.`,
    noNext: 'When the next is, Plan can tell once the core has started.',
    staffStill: 'The staff still shows the water.',
    waiting: 'Start back: reckoning',
    waitingWhy: 'The windows of today are not on this phone yet. Keep the app open until they are.',
    stoppedWhy: 'The windows of today are not on this phone, and they cannot be reckoned now. Take the times from a printed table or from another phone, and do not go by this page.',
    moreLabel: 'What to do',
    open: 'To the staff',
  },

  water: {
    title: 'The water',
    about: 'More on the water',
    /** @param {string} m @param {string} trend */
    predicted: (m, trend) => `predicted ${m} ${unit()}, ${trend}`,
    look: 'look at the sea',
    trends: { rising: 'rising', falling: 'falling', turning: 'about to turn' },
    /** @param {string} m */
    below: (m) => `bare below ${m}`,
    /** @param {string} m */
    cut: (m) => `way back cut at ${m}`,
    cutUnknown: 'The height that cuts the way back is not known: start back at low water.',
    /** @param {string} what @param {string} m */
    marker: (what, m) => `${what} ${m}`,
    /** @param {string} m @param {string} at */
    low: (m, at) => `low ${m} at ${at}`,
    /** @param {number} n @param {string} at @param {string} m */
    lowIn: (n, at, m) => `Low water in ${long(n)}, at ${at}: ${m} ${unit()}`,
    /** @param {string} at @param {string} m */
    highAt: (at, m) => `High water at ${at}: ${m} ${unit()}`,
    /** @param {string} first @param {string} then */
    turns: (first, then) => (then ? `${first}. ${then}.` : `${first}.`),
    /** @param {string} datum */
    datum: (datum) => `Heights above ${datum}. From sun and moon only: wind, swell and air pressure move the water too.`,
    noDatum: 'From sun and moon only: wind, swell and air pressure move the water too.',
    /** @param {string[]} parts */
    drawing: (parts) => `A tide staff: ${parts.join('; ')}.`,
  },

  standing: {
    fresh: 'Reckoned on this phone just now.',
    /** @param {string} at */
    reckoning: (at) => `Reckoning again. Until then you see what was kept from ${at}.`,
    reckoningFirst: 'Reckoning the water. Keep the app open.',
    /** @param {string} at */
    kept: (at) => `Kept from ${at}: the part that reckons does not run. The water is the same prediction, from the phone’s own store.`,
    none: 'No water is kept on this phone for now, and it cannot be reckoned. Do this: open the app where there is signal and wait until the staff stands here; or go by a printed table. Do not go by this page.',
    clockUnchecked: 'This phone’s clock was not checked against another clock: compare it with a watch. Every time here stands on it.',
  },

  ways: {
    label: 'More on the shore',
    log: 'Log a find',
    today: 'Finds of today',
    help: 'Emergency',
    outings: 'Outings',
    plan: 'Plan an outing',
  },

  under: {
    title: 'The outing',
    thunder: 'Thunder: leave now',
    higher: 'The sea is higher than shown',
    heads: 'Count heads',
    /** @param {number} n */
    headsIn: (n) => n > 0 ? `again in ${n} min` : 'now',
    /** @param {number} count @param {string} at */
    headsLast: (count, at) => `last ${count}, at ${at}`,
    back: 'We are on our way out, or back',
    /** @param {string} at @param {string} who */
    late: (at, who) => `Due back at ${at} has passed. Send word to ${who} now, or let somebody send it: they may be calling for help.`,
    lock: 'Lock this phone',
    start: 'Start',
    startPlanned: 'Start the outing of today',
    goWithout: 'Go without a plan',
    /** @param {string} role */
    notYours: 'On a child’s or a guest’s phone an outing is only looked at. An adult’s phone starts it, counts heads and ends it.',
    unkept: 'This phone did not keep that. It holds until you close the page: write it down.',
  },

  phone: {
    title: 'This phone',
    sleeps: 'A phone that sleeps cannot warn you. Set two alarms.',
    awake: 'Keep the screen awake',
    /** @type {Record<string, string>} */
    wake: {
      off: 'The screen sleeps as it always does.', on: 'The screen stays awake while this page is open.',
      refused: 'The phone refused to stay awake: its battery is low, or a setting forbids it.',
      'let-go': 'The phone has let go of it. It is asked again when you come back to this page.',
      unknown: 'This browser cannot keep the screen awake. Set the phone’s own screen time.',
    },
    sound: 'Try the sound',
    /** @type {Record<string, string>} */
    sounds: {
      untouched: 'The sound is off until you touch this.', on: 'It should have sounded and shaken. If not, the phone is muted: turn it up.',
      none: 'This browser gives no sound.',
    },
    dim: 'Dim the screen',
    dimAuto: 'It dims by itself when the sun is down.',
  },

  warn: {
    label: 'Warning',
    /** @type {Record<string, string>} */
    says: { near: 'Ten minutes until you start back. Gather up.', back: 'Start back now.', off: 'Off the rocks now.' },
    thunder: 'Thunder: leave now.',
    heard: 'I have heard it',
  },

  lock: {
    title: 'Locked',
    why: 'So that a pocket or a child changes nothing.',
    unlock: 'Unlock',
    sure: 'Yes, unlock',
    /** @param {number} s */
    within: (s) => `Press it within ${s} seconds.`,
  },

  thunder: {
    title: 'Thunder',
    leave: 'Thunder: leave now',
    /** @param {string} left */
    left: (left) => `${left} since the last clap are not over`,
    /** @param {string} clock */
    count: (clock) => `${clock} left`,
    again: 'Thunder again',
    rule: 'Nobody goes back before thirty minutes have passed without thunder. Each clap begins them again. (US National Weather Service: leave at the first thunder, wait 30 minutes after the last.)',
    over: 'Thirty minutes have passed since the last thunder. The times of the plan hold again. Look at the sky first: if it is dark or towering, stay off.',
  },

  higher: {
    title: 'The sea is higher than shown',
    /** @param {string} m @param {string} trend */
    shown: (m, trend) => `Predicted now: ${m} ${unit()}, ${trend}.`,
    only: 'This can only bring start back and off by forward.',
    /** @param {string} what @param {string} m */
    marker: (what, m) => `The sea stands at ${what} (${m} ${unit()})`,
    orElse: 'Or say by how much it is higher:',
    how: 'By how much is it higher?',
    /** @type {Record<string, string>} */
    steps: { hand: 'by a hand’s length', knee: 'as high as a knee', more: 'more than that' },
    /** @param {string} what @param {string} m */
    step: (what, m) => `${what}, about ${m} ${unit()}`,
    /** @param {string} back @param {string} off */
    now: (back, off) => `Kept. Start back ${back}, off the rocks by ${off}.`,
    goNow: 'Kept. Start back now.',
    same: 'Kept. The sea is not above its prediction there, so the times stay as they were.',
    unchanged: 'Kept. Even so much higher, the times that you have are the earlier ones: they stay.',
    noWater: 'The water of now is not on this phone, so nobody can say how much earlier it comes. Start back now.',
    startBack: 'The sea is not where it should be: start back',
    toStaff: 'Back to the staff',
    /** @param {number} visits @param {number} late */
    usually: (visits, late) => `${visits} visits, usually ${late === 0 ? 'on time' : late > 0 ? `${late} min late` : `${-late} min early`}.`,
    usuallyWhy: 'That is when the sea reached your marker, against the prediction. It is never applied by itself: if you trust it, set the shore’s own differences.',
    set: 'Set the shore’s own differences',
  },

  heads: {
    title: 'Count heads',
    /** @param {number} n */
    party: (n) => n === 1 ? 'One is in the party.' : `${n} are in the party.`,
    tap: 'Touch each one that you see, and yourself.',
    /** @param {number} n */
    number: (n) => `Number ${n}`,
    you: 'Unnamed',
    adult: (/** @type {number} */ n) => `Adult ${n}`,
    counted: 'Counted',
    fewer: 'One fewer',
    more: 'One more',
    /** @param {number} count @param {number} of */
    sum: (count, of) => `${count} of ${of}`,
    /** @param {number} n */
    save: (n) => `Keep the count: ${n}`,
    all: 'All are here.',
    moreThan: 'More than are in the party. Count again.',
    unknownParty: 'Nobody was written down for the party. Compare the count with the last one.',
    /** @param {number} n */
    short: (n) => n === 1 ? 'One is missing' : `${n} are missing`,
    do: [
      'Stop everything. Stand together where it is dry, and stay in sight of each other.',
      'Call their names, three times, and listen. Look towards the water and behind you.',
      'Nobody searches alone: two go together, the others stay with the children.',
      'Call for help early. If they do not answer within a few minutes, or the water is rising, call the coastguard or the emergency number now. You can always call again to say that they are found.',
    ],
    help: 'Emergency',
    again: 'Count again',
    done: 'Back to the staff',
    due: 'Count heads now',
  },

  back: {
    title: 'On the way out, and back',
    alerts: 'Wrackbook alerts nobody if you are late. Only the one ashore can, if that one knows.',
    /** @param {string} who @param {string} due */
    ashore: (who, due) => `${who} expects you by ${due}.`,
    noAshore: 'Nobody ashore is written down for this outing.',
    wayOut: 'We are on our way out',
    wayOutHint: 'A message to send before you are back.',
    all: 'All back: count and end',
    allHint: 'Off the rocks and together. Count first; the outing ends with the count.',
    end: 'All are back: end the outing',
    endShort: 'The count is short. The outing goes on until all are back.',
    ended: 'The outing is ended.',
    tell: 'Tell the one ashore',
    sent: 'Handed to the phone’s sharing. Look whether it has gone.',
    copied: 'Copied. Paste it into a message.',
    byHand: 'Copy this by hand:',
    noSignal: 'A message waits for signal like any other: look whether it has gone.',
    /** @param {string} shore @param {string} at @param {number} n */
    messageBack: (shore, at, n) => `We are all back from ${shore}: ${n} of us, off the rocks at ${at}. No need to wait or to call.`,
    /** @param {string} shore @param {string} at @param {string} due */
    messageOut: (shore, at, due) => `We are on our way out from ${shore}, at ${at}.${due ? ` We are due back by ${due}.` : ''} I write again when all are back. If I have not by then, call us, and then the coastguard or the emergency number.`,
    done: 'Done',
  },

  start: {
    title: 'Start the outing',
    without: 'Go without a plan',
    withoutWhy: 'The least that safety asks for. A plan made at home asks for more, and looks at the swell and the weather first.',
    gone: 'There is no such outing on this phone.',
    ended: 'This outing is ended.',
    party: 'How many are you?',
    adults: 'Adults, with you',
    children: 'Children',
    fewer: 'One fewer',
    more: 'One more',
    who: 'Who ashore knows where you are?',
    call: 'How are they reached?',
    callHint: 'A telephone number. Children and guests do not see it.',
    due: 'Due back at',
    dueHint: 'The time at which the one ashore begins to worry. On the shore’s clock.',
    alarms: 'Two alarms',
    sleeps: 'A phone that sleeps cannot warn you. Set two alarms, on two phones or on a watch:',
    /** @param {string} at */
    first: (at) => `${at}: gather up`,
    /** @param {string} at */
    second: (at) => `${at}: start back`,
    noTimes: 'No window holds here today, so no start back is known. Set the two alarms by the one who knows the shore, and stay where you can leave at any moment.',
    set: 'Both alarms are set',
    other: 'Wrackbook alerts nobody if you are late. Coastguard, local authorities and the sea itself stand above this tool.',
    start: 'Start the outing',
    needAdult: 'Somebody grown up must come.',
    needWho: 'Write who ashore knows. Nobody goes without.',
    needDue: 'Give the time at which you are due back, later than now.',
    needAlarms: 'Set both alarms first, then say so here.',
    /** @param {string} at */
    dueOff: (at) => `Due back before you are to be off the rocks (${at})? Then start back earlier than shown.`,
    draft: 'What you wrote before is still here.',
    already: 'An outing is under way already.',
  },
};
