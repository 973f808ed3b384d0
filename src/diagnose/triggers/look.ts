import type { Region } from '../../engine/region.js';

/** What surrounds one trigger: the frame that fired, what it was compared with, and the frames before and after. */
export interface Look {
  width: number;
  height: number;
  /** The smallest whole difference that counts as changed, grey levels. */
  level: number;
  /** Smoothed luminance, width * height bytes each; times in seconds, rising. */
  frames: readonly { time: number; y: Uint8Array }[];
  /** The place of the frame that fired in `frames`. */
  at: number;
  /** How many frames back the nearest frame is that the change can be measured against: the camera's lag, or 1. */
  lag: number;
  /** What the frame was compared with, width * height grey levels. */
  reference: ArrayLike<number>;
  /** |frame - reference|, 0 where not watched. */
  difference: Uint8Array;
  /** What fired: the largest connected region, or all that changed where the camera counts that. */
  region: Region;
}

/** Pixels of a region as places in the frame, thinned evenly to at most so many. */
export function pixelsOf(region: Region, most: number): Int32Array {
  const { mask } = region;
  const all = new Int32Array(region.pixels);
  const last = mask.lastIndexOf(1);
  let n = 0;
  if (last >= 0) for (let i = mask.indexOf(1); i <= last; i++) if (mask[i] === 1) all[n++] = i;
  if (n <= most) return all;
  return Int32Array.from({ length: most }, (_, j) => all[Math.floor((j * n) / most)]!);
}

/** Corners in pixels, right and bottom excluded. */
export interface PixelBox {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** The box around a region; of an empty one the whole frame. */
export function boxOf({ mask, width, height }: Region): PixelBox {
  const first = mask.indexOf(1);
  if (first < 0) return { left: 0, top: 0, right: width, bottom: height };
  const top = Math.floor(first / width);
  const bottom = Math.floor(mask.lastIndexOf(1) / width) + 1;
  let [left, right] = [width, 0];
  for (let y = top; y < bottom; y++) {
    const row = y * width;
    for (let x = 0; x < left; x++) if (mask[row + x] === 1) left = x;
    for (let x = width - 1; x >= right; x--) if (mask[row + x] === 1) right = x + 1;
  }
  return { left, top, right, bottom };
}

/** The median, the lower of the two middle values where their number is even; changes the order of the values. */
export function median(values: Float32Array): number {
  if (values.length === 0) return 0;
  const middle = (values.length - 1) >> 1;
  let low = 0;
  let high = values.length - 1;
  // Selection by partition (Hoare 1961, Commun. ACM 4:321-322): only the part that holds the middle is gone on with.
  while (low < high) {
    const pivot = values[(low + high) >> 1]!;
    let [i, j] = [low, high];
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i > j) break;
      const value = values[i]!;
      values[i++] = values[j]!;
      values[j--] = value;
    }
    if (middle <= j) high = j;
    else if (middle >= i) low = i;
    else break;
  }
  return values[middle]!;
}

/** How often each value is there; all 0 between calls. */
const counts = new Uint32Array(256);

/** The median of a few bytes, the lower of the two middle ones where their number is even: counted, not sorted. */
export function medianByte(values: Uint8Array): number {
  if (values.length === 0) return 0;
  const middle = (values.length - 1) >> 1;
  // The first is as good a guess as any: of pixels at rest it lies close by.
  let value = values[0]!;
  let below = 0;
  for (let i = 0; i < values.length; i++) {
    const here = values[i]!;
    counts[here]!++;
    below += Number(here < values[0]!);
  }
  while (below > middle) below -= counts[--value]!;
  while (below + counts[value]! <= middle) below += counts[value++]!;
  for (let i = 0; i < values.length; i++) counts[values[i]!] = 0;
  return value;
}
