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
  const owner = new Int32Array(width * height);
  const stack: number[] = [];
  let largest = 0;
  let pixels = 0;
  let regions = 0;
  for (let seed = 0; seed < owner.length; seed++) {
    if (owner[seed] !== 0 || difference[seed]! < level) continue;
    const region = ++regions;
    let size = 0;
    owner[seed] = region;
    stack.push(seed);
    while (stack.length > 0) {
      const at = stack.pop()!;
      size++;
      const [x, y] = [at % width, Math.floor(at / width)];
      for (let ny = Math.max(0, y - 1); ny <= Math.min(height - 1, y + 1); ny++) {
        for (let nx = Math.max(0, x - 1); nx <= Math.min(width - 1, x + 1); nx++) {
          const next = ny * width + nx;
          if (owner[next] !== 0 || difference[next]! < level) continue;
          owner[next] = region;
          stack.push(next);
        }
      }
    }
    if (size > pixels) {
      pixels = size;
      largest = region;
    }
  }
  return { mask: Uint8Array.from(owner, (o) => (o !== 0 && o === largest ? 1 : 0)), width, height, pixels };
}

/** All pixels at or above `level`: what a camera looks at whose area is all that changed. */
export function changedRegion(difference: Uint8Array, width: number, height: number, level: number): Region {
  const mask = Uint8Array.from(difference, (d) => (d >= level ? 1 : 0));
  return { mask, width, height, pixels: changedPixels(difference, level) };
}
