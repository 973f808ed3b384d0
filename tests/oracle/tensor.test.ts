import { describe, expect, it } from 'vitest';
import { Differencer } from '../../src/engine/pipeline.js';
import type { ReferenceModel } from '../../src/engine/reference.js';
import { randomBytes, swayingFrames } from '../engine/frames.js';
import { average, difference, image, previous, smoothed, tf } from './tensor.js';

// The outside source: TensorFlow.js, whose operations on whole images share no code with the typed-array form.

const [WIDTH, HEIGHT] = [48, 36];
const FRAMES = swayingFrames(10, 'tensor', { width: WIDTH, height: HEIGHT, part: 0.5, noise: 3 });
const MASK = randomBytes(WIDTH * HEIGHT, 'mask', 1);
const UNEVEN = [0, 0.2, 0.4, 0.7, 0.8, 1.5, 1.6, 1.9, 4, 4.1];

describe('smoothing, reference and difference equal their tensor form', () => {
  it.each([0, 1, 3])('previous frame, radius %i: exactly', (radius) => {
    const reference = { kind: 'previous', lag: 2 } as const;
    expect(ours(radius, reference, UNEVEN)).toEqual(theirs(radius, reference, UNEVEN).map(rounded));
  });

  it('running average, where every step halves the distance: exactly', () => {
    // With 10 frames the halves take 17 bits, so that 32-bit floats hold every value exactly on both sides.
    const times = FRAMES.map((_, k) => k);
    const reference = { kind: 'average', seconds: 1 / Math.LN2 } as const;
    expect(1 - Math.exp(-Math.LN2)).toBe(0.5);
    expect(ours(1, reference, times)).toEqual(theirs(1, reference, times).map(rounded));
  });

  it('running average at uneven times: to within the rounding of 32-bit floats', () => {
    // Both keep the mean in 32 bits, but the tensor form also rounds the products on the way there. So a difference
    // that lies within that rounding of a half may go either way, and nothing else may.
    const reference = { kind: 'average', seconds: 0.9 } as const;
    const expected = theirs(1, reference, UNEVEN);
    const furthest = ours(1, reference, UNEVEN).map((frame, k) =>
      Math.max(...frame.map((value, i) => Math.abs(value - expected[k]![i]!))),
    );
    expect(Math.max(...furthest)).toBeLessThanOrEqual(0.5 + 1e-3);
  });
});

function ours(radius: number, reference: ReferenceModel, times: readonly number[]): number[][] {
  const differencer = new Differencer({
    width: WIDTH,
    height: HEIGHT,
    smooth: radius,
    reference,
    mask: MASK,
  });
  return FRAMES.map((frame, k) => [...differencer.next(frame, times[k]!)]);
}

type Told = Extract<ReferenceModel, { kind: 'previous' | 'average' }>;

function theirs(radius: number, reference: Told, times: readonly number[]): number[][] {
  return tf.tidy(() => {
    const frames = FRAMES.map((frame) => smoothed(image(frame, WIDTH, HEIGHT), radius));
    const mask = image(MASK, WIDTH, HEIGHT);
    const past =
      reference.kind === 'previous'
        ? previous(frames, reference.lag)
        : average(frames, times, reference.seconds);
    return frames.map((frame, k) => [...difference(frame, past[k]!, mask).dataSync()]);
  });
}

function rounded(frame: number[]): number[] {
  return frame.map((value) => Math.floor(value + 0.5));
}
