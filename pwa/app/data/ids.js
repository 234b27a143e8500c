// Names for records and changes, minted on the phone.

let lastMs = 0;
let count = 0;

/**
 * A version 7 UUID as text (RFC 9562, section 5.7): 48 bits of milliseconds, then 12 bits
 * that count up within one (section 6.2, method 1), then chance. Ids of one page sort in
 * the order in which they were made, also when the clock is set back.
 * @param {number} [nowMs]
 */
export function uuidv7(nowMs = Date.now()) {
  if (nowMs > lastMs) {
    lastMs = nowMs;
    count = crypto.getRandomValues(new Uint16Array(1))[0] & 0x7ff; // half free to count up
  } else if (++count > 0xfff) {
    lastMs++;
    count = 0;
  }
  return formatUUIDv7(lastMs, count, crypto.getRandomValues(new Uint8Array(8)));
}

/**
 * @param {number} ms Unix milliseconds, 48 bits
 * @param {number} count 12 bits, rand_a of the RFC
 * @param {Uint8Array} chance eight bytes, of which 62 bits are used: rand_b
 */
export function formatUUIDv7(ms, count, chance) {
  const time = ms.toString(16).padStart(12, '0');
  const tail = Array.from(chance, (byte, i) => (i ? byte : (byte & 0x3f) | 0x80).toString(16).padStart(2, '0')).join(''); // 0b10, the variant
  return `${time.slice(0, 8)}-${time.slice(8)}-7${count.toString(16).padStart(3, '0')}-${tail.slice(0, 4)}-${tail.slice(4)}`;
}
