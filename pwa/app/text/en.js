// Every sentence that the app itself says. What the core says (reasons, cautions, errors)
// comes from the core in words.
//
// Voice: short sentences, second person. Say the thing, then the reason, then what to do.
// A shore is bare and lit, never safe. Plan's sentences stand in en-plan.js and
// en-shores.js.

import { plan } from './en-plan.js';
import { shores } from './en-shores.js';

export const text = {
  ...plan,
  ...shores,
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
    none: 'This browser keeps nothing for Wrackbook. A shore works until you close the page, then it is lost: write its heights down.',
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
    list: 'List of stations',
    listKept: 'On this phone: shores can be chosen and reckoned without signal.',
    listUnkept: 'There while this page is open; this phone did not keep it.',
    listNot: 'Not on this phone yet. Choosing a shore needs it, once.',
    storage: 'What this phone keeps',
    unknown: 'not known yet',
    errors: 'Last errors on this phone',
    noErrors: 'None.',
  },
};
