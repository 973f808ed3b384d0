import { arithmetic } from './compiled/arithmetic.js';

/** Weights of ITU-R BT.601 in thousandths, so that every sum below is a whole number and every tie exact. */
const RED = 299;
const GREEN = 587;
const BLUE = 114;

/** Whether 0..255 or 16..235 stands for black to white. */
export type Range = 'full' | 'limited';

/** Black of limited range, and how far white is from it. */
const BLACK = 16;
const SPAN = 219;

/**
 * Luminance of a frame at the analysis size: BT.601 of the stored values, area average with exact overlaps,
 * rounded once at the end, halves up.
 *
 * Each source pixel counts with the part of it that an output pixel covers; enlarging follows the same rule.
 * All sums are whole numbers (weights in thousandths, overlaps in units of a common grid), so no result depends
 * on the order of additions.
 *
 * @param pixels `width * height * channels` bytes, rows from the top, channels interleaved
 * @param channels 3 for red, green, blue; 1 when the value already is the luminance
 * @param out `outWidth * outHeight` bytes to write into; must not overlap `pixels`
 * @param range of the stored values of one channel; limited ones (16 black, 235 white, ITU-R BT.601) are brought to 0..255
 * in the same one rounding, and cut off there
 * @returns `out`
 */
export function luminance(
  pixels: Uint8Array,
  channels: 1 | 3,
  width: number,
  height: number,
  outWidth: number,
  outHeight: number,
  out: Uint8Array = new Uint8Array(outWidth * outHeight),
  range: Range = 'full',
): Uint8Array {
  if (range === 'limited') {
    if (channels === 3) throw new RangeError('limited range is of luma');
    return width === outWidth && height === outHeight
      ? widen(pixels, out)
      : average(pixels, 1, width, height, outWidth, outHeight, out, range);
  }
  if (width === 2 * outWidth && height === 2 * outHeight) {
    if (channels === 3) halveColours(pixels, width, out);
    else halve(pixels, width, out);
    return out;
  }
  if (width !== outWidth || height !== outHeight) {
    return average(pixels, channels, width, height, outWidth, outHeight, out);
  }
  if (channels === 1) {
    out.set(pixels);
    return out;
  }
  const vectors = arithmetic();
  if (vectors) vectors.grey(pixels, out);
  else grey(pixels, out);
  return out;
}

/** In JavaScript, where there is no WebAssembly. */
export function grey(pixels: Uint8Array, out: Uint8Array): void {
  for (let i = 0, j = 0; i < out.length; i++, j += 3) {
    out[i] = (RED * pixels[j]! + GREEN * pixels[j + 1]! + BLUE * pixels[j + 2]! + 500) / 1000;
  }
}

/** What each stored value of limited range comes to. */
const WIDENED = Uint8Array.from({ length: 256 }, (_, value) => widened(value, 1));

function widen(pixels: Uint8Array, out: Uint8Array): Uint8Array {
  for (let i = 0; i < out.length; i++) out[i] = WIDENED[pixels[i]!]!;
  return out;
}

/**
 * The luminance of a mean of limited range, rounded halves up.
 * @param sum of the stored values by their whole-number weights
 * @param whole the sum of the weights
 */
function widened(sum: number, whole: number): number {
  const value = Math.floor((255 * (sum - BLACK * whole) + (SPAN / 2) * whole) / (SPAN * whole));
  return Math.min(255, Math.max(0, value));
}

/** The commonest case, a camera that analyses at half its picture's size, without the general case's tables. */
function halve(pixels: Uint8Array, width: number, out: Uint8Array): void {
  for (let at = 0, i = 0; at < out.length; i += width) {
    for (const end = i + width; i < end; at++, i += 2) {
      const j = i + width;
      out[at] = (pixels[i]! + pixels[i + 1]! + pixels[j]! + pixels[j + 1]! + 2) >> 2;
    }
  }
}

function halveColours(pixels: Uint8Array, width: number, out: Uint8Array): void {
  const row = 3 * width;
  for (let at = 0, i = 0; at < out.length; i += row) {
    for (const end = i + row; i < end; at++, i += 6) {
      const j = i + row;
      const red = pixels[i]! + pixels[i + 3]! + pixels[j]! + pixels[j + 3]!;
      const green = pixels[i + 1]! + pixels[i + 4]! + pixels[j + 1]! + pixels[j + 4]!;
      const blue = pixels[i + 2]! + pixels[i + 5]! + pixels[j + 2]! + pixels[j + 5]!;
      out[at] = (RED * red + GREEN * green + BLUE * blue + 2000) / 4000;
    }
  }
}

function average(
  pixels: Uint8Array,
  channels: 1 | 3,
  width: number,
  height: number,
  outWidth: number,
  outHeight: number,
  out: Uint8Array,
  range: Range = 'full',
): Uint8Array {
  const across = overlaps(width, outWidth);
  const down = overlaps(height, outHeight);
  const row = new Float64Array(width);
  const whole = across.span * down.span * (channels === 3 ? 1000 : 1);
  // Sums are whole numbers, so a quarter added moves none across a rounding boundary, and keeps those that lie
  // exactly on one from falling short when multiplied by a reciprocal that is itself rounded.
  const half = whole / 2 + 0.25;
  const share = 1 / whole;
  for (let y = 0, at = 0; y < outHeight; y++, at += outWidth) {
    addRows(pixels, channels, row, down, y);
    if (range === 'limited') {
      for (let x = 0; x < outWidth; x++) out[at + x] = widened(rowSum(row, across, x), whole);
      continue;
    }
    for (let x = 0; x < outWidth; x++) out[at + x] = (rowSum(row, across, x) + half) * share;
  }
  return out;
}

/** Which source cells an output cell covers, along one axis, and by how much. */
interface Overlaps {
  /** Length of an output cell, and of a source cell, on the common grid. */
  readonly span: number;
  readonly cell: number;
  /** For each output cell: the first and last source cell it touches and the overlap with each. */
  readonly first: Int32Array;
  readonly last: Int32Array;
  readonly head: Int32Array;
  readonly tail: Int32Array;
}

function overlaps(from: number, to: number): Overlaps {
  const common = greatestCommonDivisor(from, to);
  const span = from / common;
  const cell = to / common;
  const first = new Int32Array(to);
  const last = new Int32Array(to);
  const head = new Int32Array(to);
  const tail = new Int32Array(to);
  for (let i = 0; i < to; i++) {
    const start = i * span;
    const end = start + span;
    const a = Math.floor(start / cell);
    const b = Math.ceil(end / cell) - 1;
    first[i] = a;
    last[i] = b;
    head[i] = Math.min(end, (a + 1) * cell) - start;
    tail[i] = a === b ? 0 : end - b * cell;
  }
  return { span, cell, first, last, head, tail };
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}

/** Puts into `row` the weighted sum of the luminances that output row `y` covers. */
function addRows(pixels: Uint8Array, channels: 1 | 3, row: Float64Array, down: Overlaps, y: number): void {
  const first = down.first[y]!;
  const last = down.last[y]!;
  row.fill(0);
  for (let source = first; source <= last; source++) {
    const weight = source === first ? down.head[y]! : source < last ? down.cell : down.tail[y]!;
    const start = source * row.length * channels;
    if (channels === 3) addColours(pixels, start, row, weight);
    else for (let x = 0; x < row.length; x++) row[x]! += weight * pixels[start + x]!;
  }
}

function addColours(pixels: Uint8Array, start: number, row: Float64Array, weight: number): void {
  for (let x = 0, j = start; x < row.length; x++, j += 3) {
    row[x]! += weight * (RED * pixels[j]! + GREEN * pixels[j + 1]! + BLUE * pixels[j + 2]!);
  }
}

/** The weighted sum of the part of `row` that output column `x` covers. */
function rowSum(row: Float64Array, across: Overlaps, x: number): number {
  const first = across.first[x]!;
  const last = across.last[x]!;
  let inner = 0;
  for (let i = first + 1; i < last; i++) inner += row[i]!;
  return across.head[x]! * row[first]! + across.cell * inner + across.tail[x]! * row[last]!;
}
