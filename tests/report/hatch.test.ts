import { expect, test } from 'vitest';
import { changedRegion, largestRegion } from '../../src/engine/region.js';
import { type Canvas, canvasOf } from '../../src/report/canvas.js';
import { hatch, mark } from '../../src/report/hatch.js';

/** Differences drawn by hand: a digit is ten times itself, a dot nothing. */
const drawing = [
  '....9.....', //
  '.99..9....',
  '.99...9...',
  '..........',
  '......5555',
];
const width = 10;
const difference = Uint8Array.from(drawing.join(''), (c) => (c === '.' ? 0 : Number(c) * 10));

function drawn(mask: Uint8Array): string[] {
  const text = Array.from(mask, (m) => (m ? '#' : '.')).join('');
  return drawing.map((_, y) => text.slice(y * width, (y + 1) * width));
}

test('the largest region at a threshold holds what touches by a corner', () => {
  const region = largestRegion(difference, width, 5, 60);
  expect(region.pixels).toBe(4);
  expect(drawn(region.mask)).toEqual([
    '..........', //
    '.##.......',
    '.##.......',
    '..........',
    '..........',
  ]);
  const diagonal = Uint8Array.from(difference, (d, i) => (i % width > 3 ? d : 0));
  expect(drawn(largestRegion(diagonal, width, 4, 60).mask).slice(0, 4)).toEqual([
    '....#.....', //
    '.....#....',
    '......#...',
    '..........',
  ]);
});

test('nothing at the threshold is a region of no pixels', () => {
  const region = largestRegion(difference, width, 5, 100);
  expect([region.pixels, region.mask.some(Boolean)]).toEqual([0, false]);
});

test('all that changed is hatched for a camera that looks at all of it', () => {
  expect(changedRegion(difference, width, 5, 50).pixels).toBe(11);
});

/** A canvas of one grey, 4 times as large as the region's frame. */
function flat(level: number): Canvas {
  return canvasOf(new Uint8Array(40 * 20).fill(level), 1, 40, 20);
}

test.each([0, 128, 255])('hatching changes a ground of %i inside the region and nothing outside', (level) => {
  const canvas = flat(level);
  const region = largestRegion(difference, width, 5, 60);
  hatch(canvas, region);
  const { data } = canvas.bitmap;
  let inside = 0;
  for (let y = 0; y < 20; y++) {
    for (let x = 0; x < 40; x++) {
      const belongs = x >= 4 && x < 12 && y >= 4 && y < 12;
      const at = 4 * (y * 40 + x);
      const changed = [0, 1, 2].some((channel) => data[at + channel] !== level);
      if (!belongs) expect([x, y, changed]).toEqual([x, y, false]);
      else if (changed) inside++;
    }
  }
  expect(inside).toBeGreaterThan(8);
});

test.each([0, 128, 255])(
  'a small region on a ground of %i is outlined, and what is in it stays as it was',
  (level) => {
    const size = 60;
    const canvas = canvasOf(new Uint8Array(size * size).fill(level), 1, size, size);
    const mask = Uint8Array.from({ length: size * size }, (_, i) =>
      Number(Math.abs((i % size) - 30) < 3 && Math.abs(Math.floor(i / size) - 30) < 3),
    );
    mark(canvas, { mask, width: size, height: size, pixels: 25 });
    const changed = Array.from({ length: size * size }, (_, i) => canvas.bitmap.data[4 * i] !== level);
    expect(changed.filter((is, i) => is && mask[i])).toEqual([]);
    expect(changed.filter(Boolean).length).toBeGreaterThan(20);
    // Nothing farther from the region than the two lines around it.
    expect(changed.every((is, i) => !is || Math.abs((i % size) - 30) < 8)).toBe(true);
  },
);
