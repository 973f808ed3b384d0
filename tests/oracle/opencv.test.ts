import { describe, expect, it } from 'vitest';
import { EvidenceMeter } from '../../src/engine/evidence.js';
import { luminance } from '../../src/engine/luminance.js';
import { createReference } from '../../src/engine/reference.js';
import { smooth } from '../../src/engine/smooth.js';
import { randomBytes, swayingFrames } from '../engine/frames.js';
import { absoluteDifference, blur, Labelling, reduce } from './opencv.js';

// The outside source throughout: OpenCV 4.3, as built in the npm package opencv-wasm.

const SIZES: readonly [number, number][] = [
  [64, 48],
  [37, 23],
  [320, 240],
];

describe('smoothing equals blur with a replicated border', () => {
  it.each([0, 1, 2, 3, 7])('at radius %i', (radius) => {
    for (const [width, height] of SIZES) {
      const y = randomBytes(width * height, `blur ${width} ${radius}`);
      expect(smooth(y, width, height, radius)).toEqual(blur(y, width, height, radius));
    }
  });
});

it('the difference from the previous frame equals absdiff', () => {
  const [width, height] = [320, 240];
  const [past, present] = [randomBytes(width * height, 'past'), randomBytes(width * height, 'present')];
  const reference = createReference({ kind: 'previous', lag: 1 }, width * height);
  const difference = new Uint8Array(width * height);
  reference.advance(past, 0);
  reference.difference(present, null, difference);
  expect(difference).toEqual(absoluteDifference(past, present, width, height));
});

describe('the largest region at all 255 thresholds equals connectedComponentsWithStats', () => {
  const frames: [string, number, number, Uint8Array][] = [
    ...SIZES.map(([width, height]): [string, number, number, Uint8Array] => [
      `white noise ${width}x${height}`,
      width,
      height,
      randomBytes(width * height, `noise ${width}`),
    ]),
    ['smoothed noise 320x240', 320, 240, smooth(randomBytes(320 * 240, 'soft'), 320, 240, 2)],
    ['plateaus 61x47', 61, 47, randomBytes(61 * 47, 'few levels', 3).map((value) => value * 85)],
    ['a swaying half 320x240', 320, 240, swayingDifference()],
  ];

  it.each(frames)('%s', (_, width, height, difference) => {
    const labelling = new Labelling(width, height);
    labelling.load(difference);
    const expected = Array.from({ length: 255 }, (_, i) => labelling.largest(i + 1));
    labelling.delete();
    const { region } = new EvidenceMeter(width, height).measure(difference);
    expect([...region.subarray(1)]).toEqual(expected);
  });
});

describe('luminance agrees with INTER_AREA', () => {
  it.each([
    [320, 240, 160, 120],
    [320, 240, 80, 80],
    [320, 240, 107, 81],
    [101, 77, 100, 30],
  ])('from %ix%i to %ix%i', (width, height, outWidth, outHeight) => {
    const y = randomBytes(width * height, `reduce ${outWidth}`);
    const ours = luminance(y, 1, width, height, outWidth, outHeight);
    const theirs = reduce(y, width, height, outWidth, outHeight);
    const apart = ours.map((value, i) => Math.abs(value - theirs[i]!));
    // They may round an exact half, or a sum in 32-bit floats, the other way.
    expect(Math.max(...apart)).toBeLessThanOrEqual(1);
    expect(apart.reduce((sum, value) => sum + value, 0) / apart.length).toBeLessThan(0.1);
  });
});

function swayingDifference(): Uint8Array {
  const [width, height] = [320, 240];
  const [a, b] = swayingFrames(2, 'sway', { width, height, part: 0.5, noise: 3 });
  return absoluteDifference(a!, b!, width, height);
}
