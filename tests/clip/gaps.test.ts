import { describe, expect, it } from 'vitest';
import { gapWarning, rateOf } from '../../src/clip/gaps.js';
import { sampleFrames } from '../../src/engine/sample.js';
import type { Labels } from '../../src/score/labels.js';

/** Frames at five a second, in stretches of so many that begin at these times. */
const timesOf = (...stretches: [start: number, frames: number][]) =>
  Float64Array.from(stretches.flatMap(([start, n]) => Array.from({ length: n }, (_, i) => start + i / 5)));
const lengthOf = (times: Float64Array) => times.at(-1)! * (times.length / (times.length - 1));
const warn = (times: Float64Array, labels: Labels | null = null) =>
  gapWarning(times, lengthOf(times), labels);

describe('frames of seconds over a day', () => {
  const times = timesOf([0, 30], [43_200, 15], [86_394, 15]);

  it('are told of with how long there were none', () => {
    expect(warn(times)).toMatch(
      /^it was without frames for 23:59:45 of its 24:24:21 \(2 gaps, the longest from 0:06 to 12:00:00\), which count as watched/,
    );
  });

  it('are not told of where the gaps are set aside', () => {
    const ignored = [
      { start: 5.8, end: 43_200 },
      { start: 43_202.8, end: 90_000 },
    ];
    expect(warn(times, { version: 1, visits: [], ignored })).toBeNull();
    expect(warn(times, { version: 1, visits: [], reviewed: [{ start: 0, end: 6 }] })).toBeNull();
  });
});

describe('the rate of a clip with gaps', () => {
  const times = timesOf([0, 30], [43_200, 15], [86_394, 15]);

  it('is that of its stretches', () => {
    expect(rateOf(times)).toBeCloseTo(5, 9);
  });

  it('has a slower camera look no oftener within them than anywhere', () => {
    const seen = sampleFrames(times, lengthOf(times), rateOf(times), 2.5);
    expect(Array.from(seen.subarray(0, 5))).toEqual([0, 2, 4, 6, 8]);
  });

  it('is the mean where there is none', () => {
    expect(rateOf(Float64Array.of(0, 0.1, 0.4, 0.6))).toBeCloseTo(5, 9);
    expect(rateOf(Float64Array.of(0, 3600))).toBeCloseTo(1 / 3600, 12);
  });
});

describe('nothing is said', () => {
  it.each([
    ['of even times', timesOf([0, 500])],
    ['of a frame a minute', Float64Array.from({ length: 500 }, (_, i) => 60 * i)],
    ['of two frames', Float64Array.of(0, 3600)],
    ['of a dropped frame or two', timesOf([0, 400], [80.6, 400])],
    ['of times that waver', Float64Array.from({ length: 500 }, (_, i) => i / 5 + 0.09 * Math.sin(i))],
  ])('%s', (_, times) => {
    expect(warn(times)).toBeNull();
  });
});
