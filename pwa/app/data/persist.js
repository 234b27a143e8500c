// Whether the browser has promised not to clear what this phone keeps.

/** Asks for that promise; browsers without one are left alone. */
export async function persist() {
  try {
    if (!(await persisted())) await navigator.storage?.persist?.();
  } catch {
    // not in this context: House says that it may be cleared
  }
}

/** @returns {Promise<boolean>} */
export async function persisted() {
  try {
    return (await navigator.storage?.persisted?.()) ?? false;
  } catch {
    return false;
  }
}
