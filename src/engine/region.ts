import { changedPixels } from './area.js';

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
  // One pixel of 0 all round, so that no fill leaves the frame. 1: changed and not visited; from 2 on: its region.
  const stride = width + 2;
  const owner = new Int32Array(stride * (height + 2));
  for (let y = 0, i = 0; y < height; y++) {
    let at = (y + 1) * stride + 1;
    for (let x = 0; x < width; x++, i++, at++) owner[at] = difference[i]! >= level ? 1 : 0;
  }
  const neighbours = [-stride - 1, -stride, -stride + 1, -1, 1, stride - 1, stride, stride + 1];
  const stack = new Int32Array(width * height);
  let [largest, pixels, regions] = [0, 0, 1];
  for (let seed = stride; seed < owner.length - stride; seed++) {
    if (owner[seed] !== 1) continue;
    const region = ++regions;
    let [size, depth] = [0, 0];
    owner[seed] = region;
    stack[depth++] = seed;
    while (depth > 0) {
      const at = stack[--depth]!;
      size++;
      for (let n = 0; n < 8; n++) {
        const next = at + neighbours[n]!;
        if (owner[next] !== 1) continue;
        owner[next] = region;
        stack[depth++] = next;
      }
    }
    if (size > pixels) [pixels, largest] = [size, region];
  }
  const mask = new Uint8Array(width * height);
  if (largest > 0) {
    for (let y = 0, i = 0; y < height; y++) {
      let at = (y + 1) * stride + 1;
      for (let x = 0; x < width; x++, i++, at++) mask[i] = owner[at] === largest ? 1 : 0;
    }
  }
  return { mask, width, height, pixels };
}

/** All pixels at or above `level`: what a camera looks at whose area is all that changed. */
export function changedRegion(difference: Uint8Array, width: number, height: number, level: number): Region {
  const mask = new Uint8Array(width * height);
  for (let i = 0; i < mask.length; i++) mask[i] = difference[i]! >= level ? 1 : 0;
  return { mask, width, height, pixels: changedPixels(difference, level) };
}
