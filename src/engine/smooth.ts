import { arithmetic } from './compiled/arithmetic.js';
import { isAligned, LITTLE_ENDIAN, wordsOf } from './words.js';

/**
 * Box mean of radius `radius` with the edge pixel repeated, rounded to nearest (a box holds an odd number of
 * pixels, so there are no ties). Costs the same for any radius: column sums slide down the frame, and a window
 * slides along them.
 *
 * @param y `width * height` bytes, rows from the top
 * @param radius whole number of pixels from 0, also larger than the frame; 0 copies
 * @param out `width * height` bytes to write into; must not overlap `y`
 * @returns `out`
 */
export function smooth(
  y: Uint8Array,
  width: number,
  height: number,
  radius: number,
  out: Uint8Array = new Uint8Array(width * height),
): Uint8Array {
  if (radius === 0) {
    out.set(y);
    return out;
  }
  if (radius === 1) {
    const vectors = arithmetic();
    if (vectors) vectors.smooth(y, width, height, out);
    else smoothByOne(y, width, height, out);
    return out;
  }
  const columns = new Int32Array(width);
  for (let x = 0; x < width; x++) columns[x] = firstWindow(y, x, width, height, radius);
  const count = (2 * radius + 1) ** 2;
  const half = count / 2;
  const share = 1 / count;
  const right = width - 1;
  const bottom = (height - 1) * width;
  for (let row = 0, at = 0; row < height; row++) {
    let sum = firstWindow(columns, 0, 1, width, radius);
    for (let x = 0; x < width; x++, at++) {
      out[at] = (sum + half) * share;
      const enters = x + radius + 1;
      const leaves = x - radius;
      sum += columns[Math.min(enters, right)]! - columns[Math.max(leaves, 0)]!;
    }
    const enters = Math.min((row + radius + 1) * width, bottom);
    const leaves = Math.max((row - radius) * width, 0);
    for (let x = 0; x < width; x++) columns[x]! += y[enters + x]! - y[leaves + x]!;
  }
  return out;
}

/** The commonest radius in JavaScript, where there is no WebAssembly. */
export function smoothByOne(y: Uint8Array, width: number, height: number, out: Uint8Array): void {
  // Rows are then read four pixels at a time, the leftmost in the lowest byte.
  const inWords = LITTLE_ENDIAN && width % 4 === 0 && isAligned(y) && isAligned(out);
  if (inWords) smoothFourByOne(wordsOf(y), width / 4, height, wordsOf(out));
  else smoothOneByOne(y, width, height, out);
}

/** In one pass: three column sums slide along each row, and no table is kept. */
function smoothOneByOne(y: Uint8Array, width: number, height: number, out: Uint8Array): void {
  for (let row = 0; row < height; row++) {
    let here = row * width;
    let above = row === 0 ? here : here - width;
    let below = row === height - 1 ? here : here + width;
    let centre = y[above]! + y[here]! + y[below]!;
    let left = centre;
    for (const end = here + width - 1; here < end; ) {
      const at = here++;
      const right = y[++above]! + y[here]! + y[++below]!;
      out[at] = ninth(left + centre + right);
      left = centre;
      centre = right;
    }
    out[here] = ninth(left + 2 * centre);
  }
}

/** Every other byte of a word. */
const EVERY_OTHER = 0x00ff00ff;

/**
 * The same for four pixels at a time: a word is parted into its even and its odd pixels, each with 16 bits to itself, which
 * hold the sum of nine.
 * @param words in a row
 */
function smoothFourByOne(y: Int32Array, words: number, height: number, out: Int32Array): void {
  for (let row = 0; row < height; row++) {
    const here = row * words;
    const above = row === 0 ? here : here - words;
    const below = row === height - 1 ? here : here + words;
    let a = y[above]!;
    let b = y[here]!;
    let c = y[below]!;
    let even = (a & EVERY_OTHER) + (b & EVERY_OTHER) + (c & EVERY_OTHER);
    let odd = ((a >>> 8) & EVERY_OTHER) + ((b >>> 8) & EVERY_OTHER) + ((c >>> 8) & EVERY_OTHER);
    // The pixel left of the row is the first one again, that right of it the last.
    let before = even & 0xffff;
    for (let i = 0; i < words; i++) {
      const last = i === words - 1;
      const next = last ? i : i + 1;
      a = y[above + next]!;
      b = y[here + next]!;
      c = y[below + next]!;
      const nextEven = (a & EVERY_OTHER) + (b & EVERY_OTHER) + (c & EVERY_OTHER);
      const nextOdd = ((a >>> 8) & EVERY_OTHER) + ((b >>> 8) & EVERY_OTHER) + ((c >>> 8) & EVERY_OTHER);
      const after = last ? odd >>> 16 : nextEven & 0xffff;
      const both = even + odd;
      const evens = both + ((odd << 16) | before);
      const odds = both + ((even >>> 16) | (after << 16));
      out[here + i] =
        ninth(evens & 0xffff) |
        (ninth(odds & 0xffff) << 8) |
        (ninth(evens >>> 16) << 16) |
        (ninth(odds >>> 16) << 24);
      before = odd >>> 16;
      even = nextEven;
      odd = nextOdd;
    }
  }
}

/** A ninth, rounded to nearest: 58255 / 2^19 is exact for every sum up to 9 * 255, and no division. */
function ninth(sum: number): number {
  return ((sum + 4) * 58255) >>> 19;
}

/** Sum over the window around the first of `length` values `step` apart, the ends repeated. */
function firstWindow(
  values: Uint8Array | Int32Array,
  start: number,
  step: number,
  length: number,
  radius: number,
): number {
  const last = length - 1;
  const inside = Math.min(radius, last);
  let sum = (radius + 1) * values[start]! + (radius - inside) * values[start + last * step]!;
  for (let i = 1; i <= inside; i++) sum += values[start + i * step]!;
  return sum;
}
