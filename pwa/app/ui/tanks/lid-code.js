// A QR code of a link, drawn on the phone, so that a sheet can be printed without the server:
// bytes, level M, versions 1 to 9, mask 0 (ISO/IEC 18004:2015; the server's invitations are
// drawn alike). Nothing here but numbers.

/**
 * The check words of one block (its table 9, level M) and the data words of each block, by version.
 * @type {[number, number[]][]}
 */
const BLOCKS = [
  [10, [16]], [16, [28]], [26, [44]], [18, [32, 32]], [24, [43, 43]], [16, [27, 27, 27, 27]], [18, [31, 31, 31, 31]], [22, [38, 38, 39, 39]],
  [22, [36, 36, 36, 37, 37]],
];

/** Where alignment patterns have their middles (its annex E), by version. */
const ALIGNED = [[], [6, 18], [6, 22], [6, 26], [6, 30], [6, 34], [6, 22, 38], [6, 24, 42], [6, 26, 46]];

/** Powers of 2 in the field of 256 (x⁸ + x⁴ + x³ + x² + 1), and their logarithms. */
const power = new Uint8Array(255);
const log = new Uint8Array(256);
for (let i = 0, x = 1; i < 255; i++) {
  power[i] = x;
  log[x] = i;
  x = (x << 1) ^ (x & 0x80 ? 0x11d : 0);
}

/** @param {number} a @param {number} b */
const times = (a, b) => (a && b ? power[(log[a] + log[b]) % 255] : 0);

/**
 * The check words of a block: what its data leave when the generator divides them.
 * @param {number[]} data
 * @param {number} n
 */
function checkWords(data, n) {
  let generator = [1];
  for (let i = 0; i < n; i++) generator = [...generator, 0].map((g, j) => g ^ times(generator[j - 1] ?? 0, power[i]));
  const left = [...data, ...Array(n).fill(0)];
  data.forEach((_, i) => {
    const first = left[i];
    generator.forEach((g, j) => (left[i + j] ^= times(g, first)));
  });
  return left.slice(data.length);
}

/**
 * The words of a text in the order in which they are drawn.
 * @param {Uint8Array} bytes
 * @param {number} version
 */
function words(bytes, version) {
  const [checks, sizes] = BLOCKS[version - 1];
  const room = sizes.reduce((sum, size) => sum + size, 0);
  const bits = [4, 8].flatMap((n, i) => bitsOf([0b0100, bytes.length][i], n)); // bytes follow; how many
  for (const byte of bytes) bits.push(...bitsOf(byte, 8));
  bits.push(0, 0, 0, 0); // the end; eight bits of kind and length leave it room
  const all = Array.from({ length: bits.length >> 3 }, (_, i) => bits.slice(8 * i, 8 * i + 8).reduce((word, bit) => 2 * word + bit, 0));
  for (let pad = 0xec; all.length < room; pad ^= 0xec ^ 0x11) all.push(pad);
  let from = 0;
  const blocks = sizes.map((size) => all.slice(from, (from += size)));
  const checked = blocks.map((block) => checkWords(block, checks));
  return [blocks, checked].flatMap((list) => list[list.length - 1].flatMap((_, i) => list.map((block) => block[i]).filter((word) => word !== undefined)));
}

/** @param {number} value @param {number} n most significant first */
const bitsOf = (value, n) => Array.from({ length: n }, (_, i) => (value >> (n - 1 - i)) & 1);

/**
 * A value with the remainder of its division behind it, as format and version are written.
 * @param {number} value @param {number} generator @param {number} n bits of the remainder
 */
function withRemainder(value, generator, n) {
  let left = value << n;
  for (let bit = 31 - Math.clz32(left); left >> n; bit = 31 - Math.clz32(left)) left ^= generator << (bit - n);
  return (value << n) | left;
}

/**
 * @param {string} text
 * @returns {string[] | undefined} a row of modules a text, 1 for dark; undefined for more than
 *   180 bytes, which would be too fine to read from a lid
 */
export function codeRows(text) {
  const bytes = new TextEncoder().encode(text);
  const version = BLOCKS.findIndex(([, sizes]) => bytes.length <= sizes.reduce((sum, size) => sum + size, 0) - 2) + 1;
  if (version === 0) return undefined;
  const side = 17 + 4 * version;
  /** undefined where data go. @type {(number | undefined)[][]} */
  const grid = Array.from({ length: side }, () => Array(side).fill(undefined));
  patterns(grid, version);
  const stream = words(bytes, version).flatMap((word) => bitsOf(word, 8));
  let at = 0;
  for (let right = side - 1, up = true; right > 0; right -= right === 8 ? 3 : 2, up = !up) { // column 6 is the timing pattern
    if (right === 6) right = 5;
    for (let i = 0; i < side; i++) {
      const y = up ? side - 1 - i : i;
      for (const x of [right, right - 1]) if (grid[y][x] === undefined) grid[y][x] = (stream[at++] ?? 0) ^ Number((x + y) % 2 === 0);
    }
  }
  return grid.map((row) => row.join(''));
}

/**
 * What every code of a version has: the eyes, the timing, the format and the version.
 * @param {(number | undefined)[][]} grid
 * @param {number} version
 */
function patterns(grid, version) {
  const side = grid.length;
  const set = (/** @type {number} */ x, /** @type {number} */ y, /** @type {number | boolean} */ dark) => {
    if (x >= 0 && y >= 0 && x < side && y < side) grid[y][x] = Number(dark);
  };
  for (const [left, top] of [[0, 0], [side - 7, 0], [0, side - 7]]) {
    for (let dy = -1; dy <= 7; dy++) {
      for (let dx = -1; dx <= 7; dx++) {
        const ring = Math.max(Math.abs(dx - 3), Math.abs(dy - 3));
        set(left + dx, top + dy, ring !== 2 && ring !== 4);
      }
    }
  }
  const middles = ALIGNED[version - 1];
  const last = middles[middles.length - 1];
  for (const y of middles) {
    for (const x of middles) {
      if ((x === 6 && (y === 6 || y === last)) || (y === 6 && x === last)) continue; // an eye is there
      for (let dy = -2; dy <= 2; dy++) for (let dx = -2; dx <= 2; dx++) set(x + dx, y + dy, Math.max(Math.abs(dx), Math.abs(dy)) !== 1);
    }
  }
  for (let i = 8; i < side - 8; i++) {
    set(i, 6, i % 2 === 0);
    set(6, i, i % 2 === 0);
  }
  const format = bitsOf(withRemainder(0b00000, 0b10100110111, 10) ^ 0b101010000010010, 15); // level M is 00, mask 0 is 000
  format.forEach((bit, i) => {
    // Bit 14 comes first: along row 8 from the left, then up column 8; and again at the other two eyes.
    const [x, y] = i < 6 ? [i, 8] : i === 6 ? [7, 8] : i === 7 ? [8, 8] : i === 8 ? [8, 7] : [8, 14 - i];
    set(x, y, bit);
    set(i < 7 ? 8 : side - 15 + i, i < 7 ? side - 1 - i : 8, bit);
  });
  set(8, side - 8, true);
  if (version >= 7) {
    const bits = bitsOf(withRemainder(version, 0b1111100100101, 12), 18).reverse();
    bits.forEach((bit, i) => {
      const [a, b] = [Math.floor(i / 3), side - 11 + (i % 3)];
      set(a, b, bit);
      set(b, a, bit);
    });
  }
}
