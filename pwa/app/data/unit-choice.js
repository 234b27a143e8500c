// The units in which this phone shows heights.

import { get, put } from './db.js';

/** @returns {Promise<'metric' | 'imperial' | undefined>} */
export const keptUnits = () => get('choices', 'units');
/** @param {'metric' | 'imperial'} units */
export const keepUnits = (units) => put('choices', 'units', units);
