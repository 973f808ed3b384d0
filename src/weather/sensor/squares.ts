import { linearOf } from '../gamma.js';
import { median } from './noise-line.js';

/** Side of the squares that are told apart: those that stand still, and those in which something moves. */
export const SIDE = 4;
/** Grey levels that a square may span: within it all is taken for about as bright. */
const EVEN = 40;

/** A square of a run of frames. */
export interface Square {
  /** Which of the picture's squares. */
  square: number;
  level: number;
  light: number;
  /** Variance over time, grey levels squared. */
  variance: number;
  /** The same in linear light. */
  lightVariance: number;
  /** As `variance`, of frames two apart. */
  twoApart: number;
  /** Both again, of how neighbours differ: what moves takes them along together. */
  beside: number;
  besideTwoApart: number;
  /** Mean product of the noise of neighbours within a block of compression, and of neighbours of two blocks. */
  within: number;
  between: number;
  /** Pairs of neighbours of two blocks; without any, `between` is 0 and says nothing. */
  edges: number;
  /** Frames in its run. */
  frames: number;
}

/** What a run of frames shows at a square. */
export interface SeenSquare {
  /** Mean linear light, 0 to 1. */
  light: number;
  /** The square; or why it says nothing: black or white cut it, or it spans too many grey levels. */
  found: Square | 'clipped' | 'uneven';
  /** Pairs of frames in which it stayed as it was, to the last grey level. */
  alike: number;
}

/** Frames that follow one another, and what is known of them. */
export interface Run {
  /** Luminance, rows from the top; at least three. */
  frames: readonly Uint8Array[];
  width: number;
  /** By how much of itself each frame is brighter than the one before, from the second on. */
  changes: readonly number[];
  /** Width of the blocks that compression works in, where they begin at the left edge; null: none to be seen. */
  block: number | null;
}

/** @param square which of the picture's squares; `from` the index of its first pixel */
export function seenSquare({ frames, width, changes, block }: Run, square: number, from: number): SeenSquare {
  const n = frames.length;
  let [sum, light, one, two, inLight, low, high] = [0, 0, 0, 0, 0, 255, 0];
  let [beside, besideTwo] = [0, 0];
  let [within, inside, between, edges] = [0, 0, 0, 0];
  let clipped = false;
  const alike = new Uint8Array(n - 1).fill(1);
  for (let dy = 0; dy < SIDE; dy++) {
    for (let dx = 0; dx < SIDE; dx++) {
      const i = from + dy * width + dx;
      let total = 0;
      let bright = 0;
      for (let k = 0; k < n; k++) {
        total += frames[k]![i]!;
        bright += LIGHT[frames[k]![i]!]!;
      }
      const mean = total / n;
      const meanLight = bright / n;
      if (mean < low) low = mean;
      if (mean > high) high = mean;
      const x = (i % width) + 1;
      const hasNext = block !== null && x < width;
      const isEdge = block !== null && x % block === 0;
      if (hasNext) isEdge ? edges++ : inside++;
      let before = 0;
      let apartBefore = 0;
      for (let k = 1; k < n; k++) {
        const value = frames[k]![i]!;
        const was = frames[k - 1]![i]!;
        if (value !== was) alike[k - 1] = 0;
        if (value === 0 || value === 255) clipped = true;
        const d = value - was - changes[k - 1]! * mean;
        one += d * d;
        const inLinear = LIGHT[value]! - LIGHT[was]! - CURVE * changes[k - 1]! * meanLight;
        inLight += inLinear * inLinear;
        if (k > 1) two += (d + before) ** 2;
        if (hasNext || dx < SIDE - 1) {
          const next = frames[k]![i + 1]! - frames[k - 1]![i + 1]! - changes[k - 1]! * mean;
          if (isEdge) between += d * next;
          else if (hasNext) within += d * next;
          if (dx < SIDE - 1) {
            const apart = d - next;
            beside += apart * apart;
            if (k > 1) besideTwo += (apart + apartBefore) ** 2;
            apartBefore = apart;
          }
        }
        before = d;
      }
      sum += mean;
      light += meanLight;
    }
  }
  const pixels = SIDE * SIDE;
  const level = sum / pixels;
  const seen = { light: light / pixels, alike: alike.reduce((count, a) => count + a, 0) };
  if (clipped && (level < 4 || level > 251)) return { ...seen, found: 'clipped' };
  if (high - low > EVEN) return { ...seen, found: 'uneven' };
  // Half the mean square of a difference; for frames two apart as many as there are.
  const variance = one / (2 * pixels * (n - 1));
  const found = {
    square,
    level,
    light: seen.light,
    variance,
    lightVariance: inLight / (2 * pixels * (n - 1)),
    twoApart: two / (2 * pixels * (n - 2)),
    beside: beside / (2 * pixels * (n - 1)),
    besideTwoApart: besideTwo / (2 * pixels * (n - 2)),
    within: inside > 0 ? within / (2 * inside * (n - 1)) : 0,
    between: edges > 0 ? between / (2 * edges * (n - 1)) : 0,
    edges,
    frames: n,
  };
  return { ...seen, found };
}

/** By how much of itself a frame is brighter than the one before, in the middle of its squares. */
export function brightening(a: Uint8Array, b: Uint8Array, width: number, height: number): number {
  const changes: number[] = [];
  const side = 2 * SIDE;
  for (let y = 0; y + side <= height; y += side) {
    for (let x = 0; x + side <= width; x += side) {
      let [was, is] = [0, 0];
      for (let dy = 0; dy < side; dy++) {
        for (let i = (y + dy) * width + x, end = i + side; i < end; i++) {
          was += a[i]!;
          is += b[i]!;
        }
      }
      if (was > 0) changes.push(is / was - 1);
    }
  }
  return changes.length === 0 ? 0 : median(changes);
}

/** Linear light of each grey level. */
const LIGHT = Float64Array.from({ length: 256 }, (_, level) => linearOf(level / 255));
/** Of light that changes by a small share, the signal changes by so much less; sRGB's curve is nearly this power. */
const CURVE = 2.2;
