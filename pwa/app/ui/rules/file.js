// A set as a file: out by the phone's own sharing or its downloads.

import { call } from '../../core.js';

const HAND_MS = 60_000;

/**
 * The text of the file, in the order in which the core writes it.
 * @param {Record<string, any>} document
 */
async function fileText(document) {
  const { document: tidy } = await call('ruleset', { document }).catch(() => ({ document }));
  return `${JSON.stringify(tidy, null, 2)}\n`;
}

/** @param {string} name of the set */
function fileName(name) {
  const plain = name.normalize('NFKD').replace(/[^A-Za-z0-9]+/g, '-').replace(/^-+|-+$/g, '').toLowerCase().slice(0, 60);
  return `rules-${plain || 'set'}.json`;
}

/**
 * @param {Record<string, any>} document
 * @returns {Promise<'shared' | 'stopped' | 'saved' | 'not'>}
 */
export async function handOut(document) {
  const file = new File([await fileText(document)], fileName(String(document.name ?? '')), { type: 'application/json' });
  if (navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file] });
      return 'shared';
    } catch (error) {
      if (/** @type {Error} */ (error).name === 'AbortError') return 'stopped';
    }
  }
  try {
    const url = URL.createObjectURL(file);
    Object.assign(globalThis.document.createElement('a'), { href: url, download: file.name }).click();
    setTimeout(() => URL.revokeObjectURL(url), HAND_MS); // some browsers read it late
    return 'saved';
  } catch {
    return 'not';
  }
}
