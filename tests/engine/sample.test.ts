import { expect, it } from 'vitest';
import { sampleFrames } from '../../src/engine/sample.js';

const FIVE_A_SECOND = Array.from({ length: 10 }, (_, k) => k * 0.2);

it.each([
  ['equal', 5],
  ['equal but for rounding', 5 * (1 - 1e-12)],
  ['higher', 30],
])('takes every frame when the rate is %s', (_, rate) => {
  expect([...sampleFrames(FIVE_A_SECOND, 2, 5, rate)]).toEqual([...FIVE_A_SECOND.keys()]);
});

it('takes the nearest frame, the earlier of two equally near', () => {
  // At 0, 0.5 (between 0.4 and 0.6), 1, 1.5 (between 1.4 and 1.6).
  expect([...sampleFrames(FIVE_A_SECOND, 2, 5, 2)]).toEqual([0, 2, 5, 7]);
});

it('takes the earlier of two equally near also where their times are rounded', () => {
  // 0.1 lies between 0.08 and 0.12; in floating point it is a little nearer to the later one.
  const times = Array.from({ length: 10 }, (_, k) => k / 25);
  expect([...sampleFrames(times, 0.4, 25, 10)]).toEqual([0, 2, 5, 7]);
});

it('takes the nearest frame at a rate that does not divide the clip’s', () => {
  // At 0, 1/3 (0.4), 2/3 (0.6), 1, 4/3 (1.4), 5/3 (1.6).
  expect([...sampleFrames(FIVE_A_SECOND, 2, 5, 3)]).toEqual([0, 2, 3, 5, 7, 8]);
});

it('takes none twice across a gap', () => {
  // At 0; 1 (0.2 is nearer than 3); 2 (3 is); 3 again; the clip ends before 4.
  expect([...sampleFrames([0, 0.1, 0.2, 3, 3.1], 3.875, 5 / 3.875, 1)]).toEqual([0, 2, 3]);
});

it('has no instant at the clip’s end', () => {
  expect([...sampleFrames([0, 0.5, 1, 1.5], 2, 2, 1)]).toEqual([0, 2]);
  expect([...sampleFrames([0, 0.5, 1, 1.5], 2 + 1e-12, 2, 1)]).toEqual([0, 2]);
});
