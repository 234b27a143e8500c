// What is said of kinds on the way home and at a dip, and of the home itself.

/** @param {number} hours */
const within = (hours) => `in the tank within ${hours} hours`;

export const care = {
  title: 'On the way home',
  /** @param {string} how @param {number} lowC @param {number} highC @param {number} hours */
  temperate: (how, lowC, highC, hours) => `${how}, ${lowC} to ${highC} °C, ${within(hours)}`,
  /** @param {string} how @param {number} withinC @param {number} hours */
  tropical: (how, withinC, hours) => `${how}, within ${withinC} °C of the pool it came from, ${within(hours)}`,
  shade: 'Keep all of it in the shade, and ice from touching it. The water it travels in goes into no tank.', // common practice
  heat: 'Keep all of it in the shade, and ice from touching it: kinds of warm water die of cold. The water it travels in goes into no tank.', // common practice
  unsaid: 'The household has not said whether it lives in the tropics; these are the figures for temperate shores. House, Household, has the question.',
  none: 'How each kind travels is not reckoned yet: damp, dark, cool and soon.',

  /** @param {string} name */
  never: (name) => `Never in fresh water: ${name} does not bear it.`,
  /** @param {string} name @param {number} minutes */
  atMost: (name, minutes) => `In fresh water ${name} bears ${minutes === 1 ? 'a minute' : `${minutes} minutes`} at most, at the tank’s own temperature.`,
  unknown: 'Whether it bears fresh water is not known: do not dip it in any.',
  /** @param {string} from */
  from: (from) => `Source: ${from}.`,
};

export const home = {
  title: 'Where the tanks stand',
  climate: 'Climate',
  climates: { '': 'Not said yet', temperate: 'Temperate', tropical: 'Tropical' },
  climateHint: 'How cool a catch travels home goes by it.',
  region: 'Coast',
  unsaid: 'Not said yet',
  regionHint: 'Which kinds are intruders goes by it: many are at home elsewhere. Without it none is known as one.',
  kept: 'Kept.',
};
