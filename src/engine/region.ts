import { Pieces } from './pieces.js';

/** The number of pixels of `difference` at or above `level`. */
export function changedPixels(difference: Uint8Array, level: number): number {
  let count = 0;
  for (let i = 0; i < difference.length; i++) count += Number(difference[i]! >= level);
  return count;
}

/** Pixels of a frame that were looked at together; 1 where a pixel belongs. */
export interface Region {
  mask: Uint8Array;
  width: number;
  height: number;
  /** How many pixels belong. */
  pixels: number;
}

/** The largest 8-connected set of pixels at or above `level`; of several equally large the first from the top left. */
export function largestRegion(difference: Uint8Array, width: number, height: number, level: number): Region {
  const { mask: changed } = changedRegion(difference, width, height, level);
  let largest = new Int32Array(0);
  Pieces.of(width, height).forEach(changed, 1, (pixels) => {
    if (pixels.length > largest.length) largest = pixels.slice();
  });
  const mask = new Uint8Array(width * height);
  for (let i = 0; i < largest.length; i++) mask[largest[i]!] = 1;
  return { mask, width, height, pixels: largest.length };
}

/** All pixels at or above `level`: what fires a camera that counts all that changed. */
export function changedRegion(difference: Uint8Array, width: number, height: number, level: number): Region {
  const mask = new Uint8Array(width * height);
  for (let i = 0; i < mask.length; i++) mask[i] = Number(difference[i]! >= level);
  return { mask, width, height, pixels: changedPixels(difference, level) };
}
