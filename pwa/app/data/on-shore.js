// What this phone alone keeps of an outing: whether it is locked, wants its screen awake,
// and how far it has warned.

import { get, put } from './db.js';

/**
 * @typedef {object} OnShore
 * @property {boolean} locked
 * @property {boolean} awake whether the screen is wanted awake
 * @property {boolean | null} dim null: when the sun is down
 * @property {{outing: string, rank: number}} heard up to which warning of which outing somebody has touched it
 */

/** @returns {Promise<Partial<OnShore> | undefined>} */
export const keptOnShore = () => get('choices', 'onShore');
/** @param {OnShore} onShore */
export const keepOnShore = (onShore) => put('choices', 'onShore', onShore);
