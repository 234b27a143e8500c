// What Plan says of windows, days and years.

export const plan = {
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
};
