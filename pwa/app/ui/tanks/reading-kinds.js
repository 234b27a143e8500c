// What is read of a water: each kind's field in the book, its unit and bounds, and how a kit
// or an instrument may state it.

/** @typedef {'salinity' | 'temperatureC' | 'pH' | 'ammoniaMgNL' | 'nitriteMgNL' | 'nitrateMgNL' | 'phosphateMgL' | 'alkalinity' | 'oxygenMgL'} Kind */

/**
 * The kinds, in the order in which they are shown.
 * @type {Kind[]}
 */
export const KINDS = ['salinity', 'temperatureC', 'pH', 'ammoniaMgNL', 'nitriteMgNL', 'nitrateMgNL', 'phosphateMgL', 'alkalinity', 'oxygenMgL'];

/**
 * Between what a reading of a water in which something lives may lie.
 * @type {Record<Exclude<Kind, 'salinity'>, [number, number]>}
 */
export const BOUNDS = {
  temperatureC: [-2, 40], pH: [4, 11], ammoniaMgNL: [0, 100], nitriteMgNL: [0, 100], nitrateMgNL: [0, 1000],
  phosphateMgL: [0, 100], alkalinity: [0, 50], oxygenMgL: [0, 40],
};

/**
 * Decimals of a figure.
 * @type {Record<Kind, number>}
 */
export const DECIMALS = { salinity: 1, temperatureC: 1, pH: 2, ammoniaMgNL: 2, nitriteMgNL: 2, nitrateMgNL: 1, phosphateMgL: 2, alkalinity: 1, oxygenMgL: 1 };

/** Molar masses in g/mol of N, H, O and P: the standard atomic weights abridged by IUPAC. */
const [N, H, O, P] = [14.007, 1.008, 15.999, 30.974];

/**
 * What a kit may state its result as, and what share of it is what the book keeps: nitrogen,
 * or phosphate.
 * @type {Partial<Record<Kind, Record<string, number>>>}
 */
export const STATED = {
  ammoniaMgNL: { N: 1, NH3: N / (N + 3 * H), NH4: N / (N + 4 * H) },
  nitriteMgNL: { N: 1, NO2: N / (N + 2 * O) },
  nitrateMgNL: { N: 1, NO3: N / (N + 3 * O) },
  phosphateMgL: { PO4: 1, P: (P + 4 * O) / P },
};

/** A degree of German hardness in meq/L: 10 mg of CaO, of 56.077 g/mol, in a litre, of which each carries two. */
export const MEQ_PER_DKH = 20 / 56.077;

/**
 * An alkalinity in another unit.
 * @param {{value: number, unit: string}} is
 * @param {string} unit dKH or meq/L
 */
export const alkalinityIn = (is, unit) => (is.unit === unit ? is.value : unit === 'dKH' ? is.value / MEQ_PER_DKH : is.value * MEQ_PER_DKH);

export const INSTRUMENTS = /** @type {const} */ (['refractometer', 'hydrometer', 'conductivity']);

const GRAVITY = ['SG 25/25', 'SG 20/20', 'SG 15/15', 'SG 60F/60F', 'SG 25/4', 'SG 20/4', 'SG 15/4', 'SG unknown'];

/**
 * The scales that an instrument may have.
 * @type {Record<string, string[]>}
 */
export const SCALES = {
  refractometer: ['ppt', 'SG 20/20', 'SG 25/25', 'SG unknown'],
  hydrometer: [...GRAVITY, 'ppt'],
  conductivity: ['PSS-78', 'mS/cm', 'ppt'],
};

/** @param {string} scale */
export const isGravity = (scale) => scale.startsWith('SG ');

/**
 * Whether the temperature of the sample bears on what was read.
 * @param {string} instrument
 * @param {string} scale
 */
export const needsSample = (instrument, scale) => instrument === 'hydrometer' || scale === 'mS/cm';
