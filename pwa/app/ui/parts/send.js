// The ways in which words leave the phone.

/**
 * Sends a text by the phone's own sharing, or copies it.
 * @param {string} words
 * @returns {Promise<'shared' | 'stopped' | 'copied' | 'neither'>} stopped: the person thought better of it
 */
export async function send(words) {
  if ('share' in navigator) {
    try {
      await navigator.share({ text: words });
      return 'shared';
    } catch (error) {
      if (/** @type {Error} */ (error).name === 'AbortError') return 'stopped';
    }
  }
  return (await copy(words)) ? 'copied' : 'neither';
}

/**
 * @param {string} words
 * @returns {Promise<boolean>} whether they can be pasted now
 */
export async function copy(words) {
  try {
    await navigator.clipboard.writeText(words);
    return true;
  } catch {
    return false;
  }
}
