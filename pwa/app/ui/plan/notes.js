// Cautions of windows: which of them could cost a life and so stay in sight, and which
// hold for the whole list and so are said once.

import { metres } from '../parts/when.js';
import { text } from '../../text/en.js';

/** @typedef {{code: string, text: string}} Note */

/** In the order of the core. */
const GRAVE = ['cut_off', 'way_off_unknown', 'raised_none', 'fast_rise', 'night'];

/** @param {Note} note */
export const isGrave = (note) => GRAVE.includes(note.code);

/**
 * The grave cautions that every window has, in words for all of them.
 * @param {any[]} windows
 * @returns {Note[]}
 */
export function everywhere(windows) {
  if (windows.length < 2) return [];
  return GRAVE.filter((code) => windows.every((w) => w.cautions.some((/** @type {Note} */ note) => note.code === code)))
    .map((code) => ({ code, text: code === 'fast_rise' ? fastest(windows) : own(windows[0], code) }));
}

/** @param {any[]} windows */
const fastest = (windows) => text.list.fastRise(metres(Math.max(...windows.map((w) => w.risePerHour))));

/** @param {any} w @param {string} code */
const own = (w, code) => w.cautions.find((/** @type {Note} */ note) => note.code === code).text;
