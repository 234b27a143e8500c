// Stamps, which order the changes of one field: a hybrid logical clock reading with its
// device, as text that sorts in its order. The core reads the same form
// (internal/journal/stamp.go); one file of vectors holds both.

/** The last millisecond of the year 9999: the latest that a clock is believed to show. */
const LATEST_MS = 253402300799999;
const GREATEST_MS = 2 ** 48 - 1;

const FORM = /^([0-9a-f]{12})-([0-9a-f]{4})-([0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12})$/;
const NIL = '00000000-0000-0000-0000-000000000000';

/** @typedef {{ms: number, counter: number, device: string}} Reading Unix milliseconds, 0..65535, UUID */

/**
 * @param {string} stamp
 * @returns {Reading | undefined} undefined for what is no stamp
 */
export function parseStamp(stamp) {
  const parts = FORM.exec(stamp);
  if (!parts || parts[3] === NIL) return undefined;
  return { ms: parseInt(parts[1], 16), counter: parseInt(parts[2], 16), device: parts[3] };
}

/** @param {Reading} reading */
export function formatStamp({ ms, counter, device }) {
  return `${ms.toString(16).padStart(12, '0')}-${counter.toString(16).padStart(4, '0')}-${device}`;
}

/**
 * The clock of this device. Its stamps rise, also when the device's clock is set back, and
 * come after all that was heard. Keep `last` beside each change, in the same transaction,
 * and start from it again.
 * @param {string} device UUID
 * @param {string} [last] the last stamp kept; none for a new device
 */
export function makeClock(device, last) {
  const from = last ? parseStamp(last) : { ms: 0, counter: 0 };
  if (!from || from.ms > LATEST_MS) throw new RangeError(`no stamp to go on from: ${last}`);
  if (!parseStamp(formatStamp({ ms: 0, counter: 0, device }))) throw new RangeError(`no device: ${device}`);
  let { ms, counter } = from;
  return {
    /** The clock as it stands, for keeping. */
    get last() {
      return formatStamp({ ms, counter, device });
    },

    /**
     * A stamp later than every one before.
     * @param {number} [now] Unix milliseconds; outside 0..LATEST_MS the nearer bound counts
     */
    next(now = Date.now()) {
      const read = Math.min(Math.max(Math.floor(now), 0), LATEST_MS);
      if (read > ms) {
        ms = read;
        counter = 0;
      } else if (counter < 0xffff) {
        counter++;
      } else {
        ms = Math.min(ms + 1, GREATEST_MS); // lends from the next millisecond
        counter = 0;
      }
      return this.last;
    },

    /**
     * Takes note of a change that the server has. The earlier of its stamp and its receipt
     * is merged, so a fast clock elsewhere never makes this one fast.
     * @param {string} stamp
     * @param {number} atMs when the server received it, Unix milliseconds
     * @returns {boolean} false for what cannot be heard, which leaves no trace
     */
    hear(stamp, atMs) {
      const heard = parseStamp(stamp);
      if (!heard || !Number.isInteger(atMs) || atMs < 0 || atMs > LATEST_MS) return false;
      const time = Math.min(heard.ms, atMs);
      if (time > ms) {
        ms = time;
        counter = heard.counter;
      } else if (time === ms) {
        counter = Math.max(counter, heard.counter);
      }
      return true;
    },
  };
}
