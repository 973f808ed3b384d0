import fc from 'fast-check';
import { expect, it } from 'vitest';
import { smooth } from '../../src/engine/smooth.js';
import { randomBytes } from './frames.js';

it('repeats the edge pixel', () => {
  // biome-ignore format: a grid
  const y = Uint8Array.of(
    9, 0, 0,
    0, 0, 0,
    0, 0, 9,
  );
  // The corner counts four times in its own window, twice in the next, once in the middle.
  // biome-ignore format: a grid
  expect([...smooth(y, 3, 3, 1)]).toEqual([
    4, 2, 0,
    2, 2, 2,
    0, 2, 4,
  ]);
});

it('rounds to nearest', () => {
  // biome-ignore format: a grid
  const y = Uint8Array.of(
    0, 0, 0, 0, 0,
    0, 0, 0, 0, 0,
    0, 0, 5, 0, 0,
    0, 0, 0, 0, 0,
    0, 0, 0, 0, 4,
  );
  // biome-ignore format: a grid
  expect([...smooth(y, 5, 5, 1)]).toEqual([
    0, 0, 0, 0, 0,
    0, 1, 1, 1, 0,
    0, 1, 1, 1, 0,
    0, 1, 1, 1, 1,
    0, 0, 0, 1, 2,
  ]);
});

it('copies at radius 0', () => {
  const y = randomBytes(12, 'copy');
  const copy = smooth(y, 4, 3, 0);
  expect(copy).toEqual(y);
  expect(copy).not.toBe(y);
});

it('equals the mean over each window, also where the window is larger than the frame', () => {
  const side = fc.integer({ min: 1, max: 9 });
  fc.assert(
    fc.property(side, side, fc.integer({ min: 0, max: 20 }), fc.string(), (width, height, radius, seed) => {
      const y = randomBytes(width * height, seed);
      expect([...smooth(y, width, height, radius)]).toEqual(windowMeans(y, width, height, radius));
    }),
    { seed: 3, numRuns: 200 },
  );
});

it('equals them at radius 1 for rows of whole and of broken words, wherever the frame begins in memory', () => {
  const side = fc.integer({ min: 1, max: 17 });
  const begin = fc.integer({ min: 0, max: 4 });
  const bytes = fc.constantFrom('random', 'white');
  fc.assert(
    fc.property(side, side, begin, begin, bytes, fc.string(), (width, height, from, to, filled, seed) => {
      const pixels = width * height;
      const y = new Uint8Array(pixels + from).subarray(from);
      if (filled === 'white') y.fill(255);
      else y.set(randomBytes(pixels, seed));
      const out = new Uint8Array(pixels + to).subarray(to);
      expect([...smooth(y, width, height, 1, out)]).toEqual(windowMeans(y, width, height, 1));
    }),
    { seed: 4, numRuns: 300 },
  );
});

function windowMeans(y: Uint8Array, width: number, height: number, radius: number): number[] {
  const at = (x: number, row: number) =>
    y[Math.min(height - 1, Math.max(0, row)) * width + Math.min(width - 1, Math.max(0, x))]!;
  return Array.from(y, (_, i) => {
    let sum = 0;
    for (let dy = -radius; dy <= radius; dy++) {
      for (let dx = -radius; dx <= radius; dx++) sum += at((i % width) + dx, Math.floor(i / width) + dy);
    }
    return Math.round(sum / (2 * radius + 1) ** 2);
  });
}
