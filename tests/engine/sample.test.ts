import seedrandom from 'seedrandom';
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

it('takes what going through all instants one by one takes', () => {
  const random = seedrandom('sample');
  for (let round = 0; round < 300; round++) {
    const times = [0];
    while (times.length < 30) {
      const gap = random() < 0.1 ? 20 * random() : 0.3 * random() + 1e-3;
      // Now and then on a round tenth, where frames are equally near.
      const next = times.at(-1)! + gap;
      times.push(random() < 0.3 ? Math.max(Math.round(10 * next) / 10, times.at(-1)! + 0.01) : next);
    }
    const length = (times.at(-1)! * 30) / 29;
    const rate = (30 / length) * random();
    const expected = new Set<number>();
    for (let j = 0; j / rate < length - 1e-9; j++) expected.add(nearest(times, j / rate));
    expect([...sampleFrames(times, length, 30 / length, rate)]).toEqual([...expected]);
  }
});

/** The frame nearest to an instant, the earlier of two equally near. */
function nearest(times: readonly number[], instant: number): number {
  let best = 0;
  for (const [k, time] of times.entries()) {
    if (Math.abs(time - instant) < Math.abs(times[best]! - instant) - 1e-9) best = k;
  }
  return best;
}

it('goes by frames, not by instants: a pause of thirty years costs nothing', () => {
  const many = Array.from({ length: 1000 }, (_, k) => k / 1000);
  const times = [...many, ...many.map((time) => 1e9 + time)];
  // A million instants a second.
  const taken = sampleFrames(times, 1e9 + 1, 1e7, 1e6);
  expect(taken).toHaveLength(2000);
});
