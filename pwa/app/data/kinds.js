// The starting list of kinds, kept on the phone so that it is there when the core is not.

import { get, put } from './db.js';

/**
 * The core's answer to 'taxa'. regions: codes and what they mean.
 * @typedef {{name: string, common: string, group: string, regions: string[], hurts: boolean, controlled: boolean, invasive: string[] | null}} Taxon
 * @typedef {{regions: Record<string, string>, groups: {id: string, name: string}[], taxa: Taxon[]}} Kinds
 */

/** @returns {Promise<{build: string, kinds: Kinds} | undefined>} build is the version of the app that kept it */
export const keptKinds = () => get('choices', 'kinds');
/** @param {Kinds} kinds @param {string} build */
export const keepKinds = (kinds, build) => put('choices', 'kinds', { build, kinds });
