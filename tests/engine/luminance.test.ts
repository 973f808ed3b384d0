import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { luminance } from '../../src/engine/luminance.js';
import { randomBytes } from './frames.js';

const grey = (values: number[], width: number, height: number, outWidth: number, outHeight: number) => [
  ...luminance(Uint8Array.from(values), 1, width, height, outWidth, outHeight),
];
const colour = (values: number[], width: number, height: number, outWidth: number, outHeight: number) => [
  ...luminance(Uint8Array.from(values), 3, width, height, outWidth, outHeight),
];

describe('the weights', () => {
  // ITU-R BT.601; (200, 150, 100) gives 159.25, computed from its weights.
  it('give 159 for (200, 150, 100)', () => {
    expect(colour([200, 150, 100], 1, 1, 1, 1)).toEqual([159]);
  });

  it.each([
    ['red', [255, 0, 0], 76], // 76.245
    ['green', [0, 255, 0], 150], // 149.685
    ['blue', [0, 0, 255], 29], // 29.07
    ['white', [255, 255, 255], 255],
  ])('give BT.601 of pure %s', (_, rgb, expected) => {
    expect(colour(rgb, 1, 1, 1, 1)).toEqual([expected]);
  });

  it('round an exact half up', () => {
    expect(colour([0, 12, 4], 1, 1, 1, 1)).toEqual([8]); // 7.5
  });

  it('leave a single channel as it is', () => {
    expect(grey([0, 7, 159, 255], 2, 2, 2, 2)).toEqual([0, 7, 159, 255]);
  });
});

describe('the area average', () => {
  it('is rounded once, at the end', () => {
    // 159.25 and 159.549: the mean is 159.3995; rounded before, it would be 159.5.
    const pair = [200, 150, 100, 201, 150, 100];
    expect(colour(pair, 2, 1, 1, 1)).toEqual([159]);
    expect(colour([...pair, ...pair], 2, 2, 1, 1)).toEqual([159]);
  });

  it('keeps a colour over a wide frame', () => {
    const wide = Array.from({ length: 640 * 3 }, () => [200, 150, 100]).flat();
    expect(new Set(colour(wide, 640, 3, 7, 2))).toEqual(new Set([159]));
  });

  it('takes whole blocks at a whole scale', () => {
    expect(
      // biome-ignore format: a grid
      grey([
        1, 2,  10, 11,  0, 255,
        3, 4,  12, 13,  0, 255,
      ], 6, 2, 3, 1),
    ).toEqual([3, 12, 128]); // 2.5, 11.5 and 127.5
  });

  it('rounds an exact half up also where the reciprocal of the area is rounded down', () => {
    // In floating point 98 * (1 / 98) is less than 1.
    expect(grey([...Array(49).fill(1), ...Array(49).fill(0)], 14, 7, 1, 1)).toEqual([1]);
  });

  it('weighs split pixels by their overlap', () => {
    // Three pixels onto two: the middle one goes half to either side.
    expect(grey([30, 60, 120], 3, 1, 2, 1)).toEqual([40, 100]);
  });

  it('weighs split pixels by their overlap when it enlarges', () => {
    // Two onto three: the middle one is half of either.
    expect(grey([30, 61], 2, 1, 3, 1)).toEqual([30, 46, 61]); // 45.5
  });

  it('equals exact fractions at any scale', () => {
    const size = fc.integer({ min: 1, max: 9 });
    fc.assert(
      fc.property(
        size,
        size,
        size,
        size,
        fc.constantFrom(1 as const, 3 as const),
        fc.string(),
        (w, h, ow, oh, c, s) => {
          const pixels = randomBytes(w * h * c, s);
          expect([...luminance(pixels, c, w, h, ow, oh)]).toEqual(inFractions(pixels, c, w, h, ow, oh));
        },
      ),
      { seed: 601, numRuns: 300 },
    );
  });

  it('equals exact fractions on a frame of ordinary size', () => {
    const pixels = randomBytes(97 * 61 * 3, 'ordinary');
    expect([...luminance(pixels, 3, 97, 61, 40, 30)]).toEqual(inFractions(pixels, 3, 97, 61, 40, 30));
  });
});

it('writes into the buffer it is given', () => {
  const out = new Uint8Array(1);
  expect(luminance(Uint8Array.of(9, 9), 1, 2, 1, 1, 1, out)).toBe(out);
  expect(out[0]).toBe(9);
});

/** Every source pixel against every output pixel, in whole numbers of unlimited size. */
function inFractions(
  pixels: Uint8Array,
  channels: number,
  width: number,
  height: number,
  outWidth: number,
  outHeight: number,
): number[] {
  const overlap = (i: number, from: number, o: number, to: number) =>
    Math.max(0, Math.min((i + 1) * to, (o + 1) * from) - Math.max(i * to, o * from));
  const weights = channels === 1 ? [1000n] : [299n, 587n, 114n];
  const whole = 1000n * BigInt(width) * BigInt(height);
  return Array.from({ length: outWidth * outHeight }, (_, at) => {
    let sum = 0n;
    pixels.forEach((value, i) => {
      const pixel = Math.floor(i / channels);
      const across = overlap(pixel % width, width, at % outWidth, outWidth);
      const down = overlap(Math.floor(pixel / width), height, Math.floor(at / outWidth), outHeight);
      // Large integers are slow, and most pixels do not touch.
      if (across * down > 0) sum += BigInt(across) * BigInt(down) * weights[i % channels]! * BigInt(value);
    });
    return Number((2n * sum + whole) / (2n * whole));
  });
}
