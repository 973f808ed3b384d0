import seedrandom from 'seedrandom';
import { smooth } from '../../src/engine/smooth.js';

/** `length` bytes, each value of 0 to `top` equally likely. */
export function randomBytes(length: number, seed: string, top = 255): Uint8Array {
  const random = seedrandom(seed);
  return Uint8Array.from({ length }, () => Math.floor(random() * (top + 1)));
}

/** Standard normal deviates (Box & Muller 1958). */
export function gaussian(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

export interface Swaying {
  readonly width: number;
  readonly height: number;
  /** The left part of the frame, from 0 to 1, that is foliage. */
  readonly part: number;
  /** Standard deviation of the sensor noise in grey levels. */
  readonly noise: number;
}

/**
 * `count` frames of foliage that sways by a few pixels on the left, a still wall on the right, and sensor noise over
 * all of it.
 */
export function swayingFrames(count: number, seed: string, of: Swaying): Uint8Array[] {
  const { width, height, part, noise } = of;
  const random = seedrandom(seed);
  const leaves = contrast(smooth(randomBytes(width * height, `${seed} leaves`), width, height, 2), 3);
  return Array.from({ length: count }, (_, k) => {
    const shift = [0, 2, 3, 1, -1, -3, -2][k % 7]!;
    const frame = new Uint8ClampedArray(width * height);
    for (let y = 0, i = 0; y < height; y++) {
      for (let x = 0; x < width; x++, i++) {
        const value = x < part * width ? leaves[y * width + ((x + shift + width) % width)]! : 120;
        frame[i] = value + noise * gaussian(random);
      }
    }
    return new Uint8Array(frame.buffer);
  });
}

function contrast(values: Uint8Array, factor: number): Uint8Array {
  return new Uint8Array(Uint8ClampedArray.from(values, (value) => 128 + factor * (value - 128)).buffer);
}
