// What Plan says of windows, days and years.

import { unit } from './unit.js';

/** @param {number} n "1st", "2nd", "3rd", "4th", "11th" */
const ordinal = (n) => {
  const teen = n % 100 > 10 && n % 100 < 14;
  return `${n}${(!teen && { 1: 'st', 2: 'nd', 3: 'rd' }[n % 10]) || 'th'}`;
};

export const plan = {
  plan: {
    title: 'Plan',
    noShore: 'Choose a station near your shore and say below which height the rocks are bare. Wrackbook then lists the mornings and evenings when the shore is bare and lit.',
    /** @param {string} below */
    bareBelow: (below) => `bare below ${below} ${unit()}`,
    /** @param {string} at */
    cutAt: (at) => `way back cut at ${at} ${unit()}`,
    cutUnknown: 'way back cut at: not known',
    change: 'Change',
    changeLabel: 'Change the shore',
    /** @param {string} height @param {string} trend */
    now: (height, trend) => `Predicted now: ${height} ${unit()}, ${trend}. Look at the sea.`,
    trends: { rising: 'rising', falling: 'falling', turning: 'about to turn' },
    reckoning: 'Reckoning…',
    /** @param {string} at */
    kept: (at) => `Kept from ${at}.`,
    again: 'Reckoning again…',
    failed: 'This could not be reckoned.',
    retry: 'Try again',
    zoneUtc: 'Times are UTC: this browser does not know the shore’s time zone.',
    /** @param {string} zone */
    zone: (zone) => `Times are those of the shore, ${zone}.`,
    listTitle: 'Windows',
    views: 'Ways to see it',
    list: 'List',
    day: 'Day',
    year: 'Year',
  },

  list: {
    /** @param {number} n @param {boolean} best */
    found: (n, best) => n === 1 ? 'One window.' : `${n} windows, ${best ? 'best first' : 'by date'}.`,
    /** @param {number} n */
    noMorning: (n) => n === 1 ? 'The one window of these days has its low water after noon.' : `All ${n} windows of these days have their low water after noon.`,
    noMorningNext: 'There is no morning window in the year after either.',
    next: 'The next one:',
    /** @param {string} day */
    goThere: (day) => `Show the days from ${day}`,
    everywhere: 'Every window:',
    astronomical: 'Astronomical predictions: trust the sea over the page.',
    /** @param {string} metres */
    fastRise: (metres) => `The water rises fast after these lows: up to ${metres} ${unit()} in an hour.`,
  },

  ask: {
    title: 'Which windows',
    from: 'From',
    today: 'From today',
    length: 'For',
    /** @type {Record<number, string>} */
    lengths: { 14: 'a fortnight', 31: 'a month', 92: 'three months' },
    weekends: 'Weekends',
    mornings: 'Mornings',
    morningsHint: 'low water before noon',
    least: 'At least',
    light: 'Light',
    /** @type {Record<string, string>} */
    lights: { sun: 'sunrise to sunset', civil: 'with twilight', any: 'day and night' },
    /** @type {Record<string, string>} */
    lightCautions: {
      sun: '',
      civil: 'In twilight, footing and finds are hard to see.',
      any: 'In the dark nobody sees a wave come. A lamp each, and somebody who knows the way by night.',
    },
    order: 'Order',
    /** @param {string} more */
    orderHint: (more) => `Best: the longest with the sea ${more} ${unit()} higher.`,
    /** @type {Record<string, string>} */
    orders: { best: 'best first', date: 'by date' },
    badDate: 'Choose a day from 5 January 1900 to 27 December 2100.',
    /** @param {string} days @param {string[]} rest */
    summary: (days, rest) => [days, ...rest].join(' · '),
    /** @param {string} first @param {string} last */
    days: (first, last) => `${first} to ${last}`,
    /** @param {string} minutes */
    leastOf: (minutes) => `${minutes} or more`,
    onlyWeekends: 'weekends',
    onlyMornings: 'mornings',
  },

  window: {
    /** @param {string} from @param {string} to */
    usable: (from, to) => `${from} – ${to}`,
    startBack: 'Start back',
    offBy: 'be off the rocks by',
    /** @param {string} time */
    leaveHome: (time) => `leave home ${time}`,
    /** @param {string} height @param {string} time */
    low: (height, time) => `low ${height} ${unit()} at ${time}`,
    /**
     * null: the water stays below for longer than was looked at.
     * @param {string | null} from
     * @param {string | null} to
     */
    bare: (from, to) => from && to ? `Bare ${from} – ${to}.` : from ? `Bare from ${from} on.` : to ? `Bare until ${to}.` : 'Bare all the time.',
    /** @param {string} from @param {string} to */
    lit: (from, to) => `Lit ${from} – ${to}.`,
    /** @param {string} more @param {string} minutes */
    raised: (more, minutes) => `with the sea ${more} ${unit()} higher: ${minutes}`,
    /** @param {string} more */
    raisedNone: (more) => `with the sea ${more} ${unit()} higher: no window`,
    /** @param {number} place @param {string} month */
    rank: (place, month) => `${place === 1 ? 'lowest' : `${ordinal(place)} lowest`} of ${month}`,
    /** @type {Record<string, string>} */
    moons: { springs: 'springs', neaps: 'neaps', tropic: 'tropic tides', equatorial: 'equatorial tides' },
    weekend: 'weekend',
    why: 'Why, and what to mind',
    /** @param {string} day */
    openDay: (day) => `Open ${day}`,
  },

  chosen: {
    choose: 'choose',
    /** @param {string} day @param {string} from */
    chooseLabel: (day, from) => `Choose ${day}, ${from}, to tell friends`,
    most: 'Three are chosen. Take one off first.',
    title: 'Chosen',
    /** @param {number} n */
    count: (n) => `${n} chosen`,
    share: 'Tell friends',
    clear: 'None',
    clearLabel: 'Choose none',
    /** @param {number} n */
    passed: (n) => n === 1 ? 'One chosen morning has passed and was taken off.' : `${n} chosen mornings have passed and were taken off.`,
    /** @param {number} n */
    changed: (n) => n === 1 ? 'One chosen morning was for a shore that has changed, and was taken off. Choose again.' : `${n} chosen mornings were for a shore that has changed, and were taken off. Choose again.`,
    copied: 'Copied. Paste it into a message.',
    byHand: 'Copy this by hand:',
    message: {
      ask: 'Which of these suits you?',
      askOne: 'Does this suit you?',
      /** @param {string} name */
      shore: (name) => `At ${name}:`,
      /** @param {string} zone */
      zone: (zone) => `Times on the shore’s clock (${zone}).`,
      zoneUtc: 'Times are UTC.',
      /** @param {string} from @param {string} to */
      usable: (from, to) => `bare and lit enough to use ${from} – ${to}`,
      /** @param {string} from @param {string} to */
      usableDark: (from, to) => `bare ${from} – ${to}, a part of it dark`,
      /** @param {string} height @param {string} time */
      low: (height, time) => `low water ${height} ${unit()} at ${time}`,
      /** @param {string} back @param {string} off */
      back: (back, off) => `start back ${back}, off the rocks by ${off}`,
      astronomical: 'The times are predicted from sun and moon only. Wind, swell and air pressure move the water too, so we look at the sea before we go.',
    },
  },

  day: {
    /** @param {string} day */
    title: (day) => day,
    none: 'No window on this day.',
    noSuchDay: 'The shore’s clocks have left this day out.',
    badDay: 'There is no such day here. Days from 5 January 1900 to 27 December 2100 can be shown.',
    windowsTitle: 'Windows of the day',
    readingLabel: 'Time of the day',
    readingHint: 'Drag on the curve, or use the arrow keys.',
    /** @param {string[]} words */
    reading: (words) => words.join(' · '),
    /** @param {string[]} words */
    spoken: (words) => words.join(', '),
    /** @param {string} m */
    metres: (m) => `${m} ${unit()}`,
    trends: { rising: 'rising', falling: 'falling', turning: 'about to turn' },
    lights: { lit: 'lit', civil: 'twilight', night: 'dark' },
    bare: 'bare',
    covered: 'under water',
    /** @param {string} m */
    levelBare: (m) => `bare below ${m} ${unit()}`,
    /** @param {string} m */
    levelCut: (m) => `way back cut at ${m} ${unit()}`,
    /** @param {string} time */
    startBack: (time) => `start back ${time}`,
    /** @param {string} time */
    offBy: (time) => `off by ${time}`,
    usable: 'usable',
    legendTitle: 'What is drawn',
    /** @param {string} more */
    legend: (more) => ({
      sea: 'the sea as predicted', raised: `the sea ${more} ${unit()} higher`, sand: 'dry below the level you can work at',
      use: 'usable', civil: 'twilight', night: 'dark',
    }),
    figuresTitle: 'The day in figures',
    figures: {
      water: 'Water', time: 'Time', height: 'Height', high: 'high water', low: 'low water',
      noWaters: 'No high or low water on this day.',
      sun: 'Sun and moon', sunrise: 'sunrise', sunset: 'sunset', civil_dawn: 'twilight begins', civil_dusk: 'twilight ends',
      moonrise: 'moonrise', moonset: 'moonset', event: 'Event',
      allLit: 'The sun does not set.', allDark: 'The sun does not rise.', allCivil: 'Twilight lasts all day or all night.',
      moon: 'Moon',
      /** @param {string} percent @param {string} phase @param {string} when */
      moonOf: (percent, phase, when) => `${percent} lit; ${phase} ${when}`,
      /** @type {Record<string, string>} */
      phases: { new: 'new moon', first_quarter: 'first quarter', full: 'full moon', last_quarter: 'last quarter' },
      hours: 'Length of the day',
      /** @param {number} hours */
      hoursOf: (hours) => `${hours} hours: the clocks change.`,
    },
  },

  year: {
    /** @param {string} year */
    title: (year) => `${year}: usable minutes a day`,
    /** @param {string} light @param {string} least */
    counts: (light, least) => `Counted: ${light}, windows of ${least} or more.`,
    /** @param {number} days @param {string} hours */
    sum: (days, hours) => `${days} days with a window, ${hours} in all.`,
    none: 'No window in this year.',
    badYear: 'Years from 1900 to 2100 can be shown.',
    edge: 'Of this year, the first days of January 1900 and the last of December 2100 are not reckoned.',
    go: 'Show',
    yearLabel: 'Year',
    before: (/** @type {number} */ y) => `${y - 1}`,
    after: (/** @type {number} */ y) => `${y + 1}`,
    gridLabel: 'Day of the year',
    gridHint: 'Each bar is a day, as tall as its usable minutes. Slide over a bar, lift to open its day; or use the arrow keys and Enter.',
    /** @param {string} day @param {string[]} windows @param {string} minutes */
    reading: (day, windows, minutes) => `${day}: ${windows.join(' and ')}, ${minutes}`,
    /** @param {string} day */
    readingNone: (day) => `${day}: no window`,
    /** @param {string} minutes */
    full: (minutes) => `A bar that fills its row is ${minutes}.`,
    marks: 'Weekends are underlined, today is framed. ○ full moon, ● new moon.',
    open: 'Open the day',
    monthsTitle: 'The months in figures',
    /** @param {string} month @param {number} days @param {string} hours */
    month: (month, days, hours) => days === 0 ? `${month}: no window` : `${month}: ${days === 1 ? '1 day' : `${days} days`}, ${hours}`,
    columns: { day: 'Day', usable: 'Usable', minutes: 'Minutes', low: 'Low' },
    print: 'Print the year',
    printList: 'Print the list',
  },

  sheet: {
    /** @param {string} station @param {string} datum */
    station: (station, datum) => `Station ${station}${datum ? `, heights above ${datum}` : ''}`,
    /** @param {string} minutes */
    rule: (minutes) => `Start back ${minutes} before off by: that is how long the slowest needs to walk out. Where the way back can be cut, or its height is not known, start back at low water at the latest.`,
    astronomical: 'Astronomical predictions only: wind, swell and air pressure move the water too. Look at the sea. Not for navigation.',
    /** @param {string} credit @param {string} release */
    credit: (credit, release) => `Tide data: ${credit}${release ? ` Catalogue ${release}.` : ''} Made with Wrackbook.`,
    bars: 'Bar: usable minutes. Figures: usable from and to. Weekends underlined. ○ full, ● new moon. +: a second window that day.',
    columns: { day: 'Day', usable: 'Usable', long: 'How long', low: 'Low', back: 'Start back', off: 'Off by', raised: (/** @type {string} */ more) => `Sea ${more} ${unit()} higher`, mind: 'Mind' },
    marks: { night: 'dark', fast_rise: 'rises fast', cut_off: 'cut off', way_off_unknown: 'way back unknown' },
    /** @param {string} shore */
    listTitle: (shore) => `${shore}: when it is bare and lit`,
    noneShown: 'no window',
  },

  before: {
    title: 'Before you go',
    short: 'Never go alone. Look at sea, wind and swell before you trust a time. At the first thunder, leave. Local authorities stand above this page.',
    /** @param {string} metres */
    swellLimit: (metres) => `You have set ${metres} ${unit()} of swell as your limit here. Above it, stay at home.`,
    // Tide and weather practice after agencies and rescue services; where a line rests on
    // common practice and no published figure, it says so here.
    rest: [
      'Local authorities, harbour and coastguard stand above this tool: a closed shore is closed. Not for navigation.',
      'Surge and swell: watch the waves for twenty minutes before you step down. A long calm can end in one large wave. Keep off steep rock and out of gullies when the swell is long.',
      'Wind and air pressure: wind from the sea and low pressure raise the water, by decimetres at times. It then comes sooner and higher than predicted.', // about 1 cm per hPa; onshore wind adds to it
      'The way back: low ground behind you fills first. Look behind you often, and turn when the sea reaches your marker.', // the marker rock is common practice
      'Thunder: leave at the first, come back no sooner than 30 minutes after the last.',
      'Season: in a monsoon, after heavy rain or on a coast with a stormy season, ask locally before you go. Rain makes rock slippery and rivers rise.', // common practice
      'Heat and cold: sun comes twice on wet rock. Bring water, shade, and something dry and warm.', // common practice
      'Darkness: be back on land before the light ends. A lamp each where a part is dark.', // common practice
      'Company: go at least two, tell somebody ashore where you are and when you are back, and carry a charged telephone that stays dry.',
      'Cut off: stay out of the water, go as high as you can, and call the coastguard or the emergency number.',
      'An old or short record behind a station makes its times less sure. What Wrackbook knows of your station stands with the numbers.',
    ],
  },

  units: {
    /** @param {number} h @param {number} m */
    duration: (h, m) => (h ? `${h} h ${String(m).padStart(2, '0')}` : `${m} min`),
  },
};
