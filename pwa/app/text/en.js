// Every sentence that the app itself says. What the core says (reasons, cautions, errors)
// comes from the core in words.
//
// Voice: short sentences, second person. Say the thing, then the reason, then what to do.
// A shore is bare and lit, never safe.

export const text = {
  name: 'Wrackbook',
  skip: 'Skip to the page',
  places: { plan: 'Plan', shore: 'Shore', tanks: 'Tanks', house: 'House' },
  placesLabel: 'Places',
  notHereYet: 'Not here yet',

  update: {
    ready: 'A new version is ready.',
    elsewhere: 'Another tab has taken the new version.',
    use: 'Use it now',
    reload: 'Reload',
  },
  core: {
    failed: 'The part of Wrackbook that reckons did not start on this phone. What you see below is kept from before.',
    retry: 'Try again',
    mismatch: 'The parts of Wrackbook on this phone are of two versions. Please reload.',
    reload: 'Reload',
  },
  storage: {
    blocked: 'Another tab holds an older Wrackbook open. Close it, so that this one can keep what you choose.',
    'stepped-aside': 'Another tab has a newer Wrackbook. Reload this one, so that it can keep what you choose.',
    none: 'This browser keeps nothing for Wrackbook. It works, but asks for your shore again each time.',
  },

  plan: {
    title: 'Plan',
    noShore: 'Choose a station near your shore and say below which height the rocks are bare. Wrackbook then lists the mornings and evenings when the shore is bare and lit.',
    /** @param {string} below */
    bareBelow: (below) => `bare below ${below} m`,
    /** @param {string} at */
    cutAt: (at) => `way back cut at ${at} m`,
    cutUnknown: 'way back cut at: not known',
    change: 'Change',
    changeLabel: 'Change the shore',
    /** @param {string} height @param {string} trend */
    now: (height, trend) => `Predicted now: ${height} m, ${trend}. Look at the sea.`,
    trends: { rising: 'rising', falling: 'falling', turning: 'about to turn' },
    cautionsTitle: 'Before you go',
    cautions: 'Never go alone. Watch the sea, not this page: wind, swell and low air pressure bring the water in earlier and higher. The word of local authorities, harbour and coastguard stands above this tool. Not for navigation.',
    reckoning: 'Reckoning…',
    /** @param {number} n */
    found: (n) => n === 1 ? 'One window.' : `${n} windows, the longest with 0.2 m more water first.`,
    /** @param {string} at */
    kept: (at) => `Kept from ${at}.`,
    again: 'Reckoning again…',
    failed: 'The windows could not be reckoned.',
    listTitle: 'Windows',
  },

  span: {
    legend: 'Days',
    from: 'From',
    today: 'From today',
    length: 'For',
    /** @type {Record<number, string>} */
    lengths: { 7: 'a week', 14: 'two weeks', 31: 'a month', 92: 'three months', 366: 'a year' },
    /** @param {string} first @param {string} last */
    shown: (first, last) => `${first} to ${last}`,
    badDate: 'Choose a day from 1900 to 2100.',
  },

  form: {
    title: 'Your shore',
    station: 'Station',
    find: 'Find a station by its name',
    findHint: 'A harbour or headland near your shore',
    searching: 'Searching…',
    /** @param {number} n */
    found: (n) => n === 0 ? 'No station of that name. Try the next larger harbour.' : n === 1 ? 'One station.' : `${n} stations.`,
    near: 'Near me',
    nearRefused: 'This phone did not tell where it is. Search by name.',
    /** @param {string} km */
    away: (km) => `${km} km away`,
    secondary: 'secondary',
    below: 'Bare below (metres)',
    belowHint: 'The water height under which your shore can be worked, above the station’s chart datum.',
    wayOff: 'Way back cut at (metres)',
    wayOffHint: 'The height at which water covers the way back. Leave it empty if you do not know it: then you start back at low water.',
    cutOff: 'This shore can be cut off by the tide',
    walkOut: 'Minutes to walk out, for the slowest',
    save: 'Show the windows',
    cancel: 'Back without changing',
    needStation: 'Choose a station first.',
    needMetres: 'Write metres as a number, such as 0.4.',
    needMinutes: 'Write whole minutes, such as 15.',
  },

  window: {
    /** @param {string} from @param {string} to */
    usable: (from, to) => `${from} – ${to}`,
    startBack: 'Start back',
    offBy: 'be off the rocks by',
    leaveHome: 'leave home at',
    /** @param {string} height @param {string} time */
    low: (height, time) => `low ${height} m at ${time}`,
    /**
     * null: the water stays below for longer than was looked at.
     * @param {string | null} from
     * @param {string | null} to
     */
    bare: (from, to) => from && to ? `bare ${from} – ${to}` : from ? `bare from ${from} on` : to ? `bare until ${to}` : 'bare all the time',
    /** @param {string} from @param {string} to */
    lit: (from, to) => `lit ${from} – ${to}`,
    /** @param {string} more @param {string} minutes */
    raised: (more, minutes) => `water ${more} m above prediction: ${minutes}`,
    /** @param {string} more */
    raisedNone: (more) => `water ${more} m above prediction: no window at all`,
    next: 'The next one:',
    zoneUtc: 'Times are UTC: this browser does not know the shore’s time zone.',
    /** @param {string} zone */
    zone: (zone) => `Times are those of the shore, ${zone}.`,
  },

  shore: {
    title: 'Shore',
    body: 'Here will stand the tide staff with the water as it is, the time to start back, and the finds of the day. For now, Plan has the times. Write them down before you go.',
  },
  tanks: {
    title: 'Tanks',
    body: 'Here will stand what you have brought home: how it is acclimated and how many quiet days of quarantine it has behind it. For now, keep your own log.',
  },
  house: {
    title: 'House',
    version: 'Version of the app',
    core: 'Version of the core',
    zones: 'Time zones',
    catalogue: 'Station catalogue',
    /** @param {number} n */
    stations: (n) => `${n} stations`,
    offline: 'Without signal',
    offlineReady: 'Works: the whole app is on this phone.',
    offlineNot: 'Not yet: the app is not on this phone whole.',
    unknown: 'not known yet',
    errors: 'Last errors on this phone',
    noErrors: 'None.',
  },

  units: {
    /** @param {number} h @param {number} m */
    duration: (h, m) => (h ? `${h} h ${String(m).padStart(2, '0')}` : `${m} min`),
  },
};
