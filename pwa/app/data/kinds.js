// The starting list of kinds, kept on the phone so that it is there when the core is not.

import { get, put } from './db.js';

/**
 * The core's answer to 'taxa'. regions: codes and what they mean.
 * A name of one word is a genus, which stands for those of its species that are not on the list.
 * harm: how it hurts, and where: on the shore, in tank work. trade: the appendix of CITES.
 * @typedef {{name: string, common: string, group: string, regions: string[], hurts: boolean, controlled: boolean, invasive: string[] | null,
 *   harm?: {how: string[], where: string[], grave?: boolean}, trade?: string}} Taxon
 * @typedef {{regions: Record<string, string>, groups: {id: string, name: string}[], taxa: Taxon[]}} Kinds
 */

/** @returns {Promise<{build: string, kinds: Kinds} | undefined>} build is the version of the app that kept it */
export const keptKinds = () => get('choices', 'kinds');
/** @param {Kinds} kinds @param {string} build */
export const keepKinds = (kinds, build) => put('choices', 'kinds', { build, kinds });
