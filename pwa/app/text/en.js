// Every sentence that the app itself says. What the core says (reasons, cautions, errors)
// comes from the core in words.
//
// Voice: short sentences, second person. Say the thing, then the reason, then what to do.
// A shore is bare and lit, never safe. Plan's sentences stand in en-plan.js and
// en-shores.js, those of House in en-house.js, those of the shore in en-staff.js.

import { finds } from './en-finds.js';
import { house } from './en-house.js';
import { outing } from './en-outing.js';
import { plan } from './en-plan.js';
import { shores } from './en-shores.js';
import { staff } from './en-staff.js';

export const text = {
  ...plan,
  ...shores,
  ...house,
  ...finds,
  ...outing,
  staff,
  name: 'Wrackbook',
  skip: 'Skip to the page',
  places: { plan: 'Plan', shore: 'Shore', tanks: 'Tanks', house: 'House' },
  placesLabel: 'Places',

  later: {
    coming: 'One moment.',
    failed: 'This place is not on this phone yet. With signal it comes, and stays.',
    again: 'Try again',
  },

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

  shore: { title: 'Shore' },
};
