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
  const all = new Int32Array(region.pixels);
  let n = 0;
  for (let i = 0; i < region.mask.length; i++) if (region.mask[i] === 1) all[n++] = i;
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
  const box = { left: width, top: height, right: 0, bottom: 0 };
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (mask[i] !== 1) continue;
      if (x < box.left) box.left = x;
      if (x >= box.right) box.right = x + 1;
      if (y < box.top) box.top = y;
      if (y >= box.bottom) box.bottom = y + 1;
    }
  }
  return box.right > 0 ? box : { left: 0, top: 0, right: width, bottom: height };
}

/** The median, the lower of the two middle values where their number is even; sorts the values in place. */
export function median(values: Float32Array): number {
  values.sort();
  return values.length === 0 ? 0 : values[(values.length - 1) >> 1]!;
}

/** The median of a few bytes, sorted in place by insertion, which is faster than calling the built-in sort. */
export function medianByte(values: Uint8Array): number {
  for (let i = 1; i < values.length; i++) {
    const value = values[i]!;
    let j = i - 1;
    for (; j >= 0 && values[j]! > value; j--) values[j + 1] = values[j]!;
    values[j + 1] = value;
  }
  return values.length === 0 ? 0 : values[(values.length - 1) >> 1]!;
}
