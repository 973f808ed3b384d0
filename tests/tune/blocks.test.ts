import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { truthOf } from '../../src/score/truth.js';
import { outcomesAt } from '../../src/sweep/outcomes.js';
import { blockOf, cutBlocks } from '../../src/tune/blocks.js';

const apart = { memory: 2, photoSpan: 1 };
const visits = (list: [number, number][]) =>
  truthOf({ version: 1, visits: list.map(([start, end]) => ({ start, end, type: 'animal' as const })) }, 100);

describe('blocks of time', () => {
  it('are about as long as each other where nothing is in the way', () => {
    expect(cutBlocks(visits([]), 4, apart)).toEqual([
      { start: 0, end: 25 },
      { start: 28, end: 50 },
      { start: 53, end: 75 },
      { start: 78, end: 100 },
    ]);
  });

  it('give way to visits, and are fewer where there is no room', () => {
    const blocks = cutBlocks(
      visits([
        [20, 40],
        [41, 62],
      ]),
      2,
      apart,
    );
    expect(blocks).toHaveLength(2);
    expect(blocks[0]?.end).toBeCloseTo(62, 3);
    expect(cutBlocks(visits([[10, 95]]), 4, apart)).toHaveLength(1);
  });

  it('share no visit, and lie apart by what the reference and a photo need', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(fc.float({ min: 0, max: 95, noNaN: true }), fc.float({ min: 0, max: 5, noNaN: true })),
          {
            maxLength: 12,
          },
        ),
        fc.integer({ min: 1, max: 8 }),
        (list, count) => {
          const truth = visits(list.map(([start, long]) => [start, start + long]));
          const blocks = cutBlocks(truth, count, apart);
          for (const [i, block] of blocks.entries()) {
            const next = blocks[i + 1];
            if (next) expect(next.start - block.end).toBeGreaterThanOrEqual(3 - 1e-9);
          }
          for (const visit of truth.visits) {
            const holding = blocks.filter((b) => visit.start >= b.start && visit.end <= b.end);
            expect(holding).toHaveLength(1);
          }
        },
      ),
      { seed: 11, numRuns: 300 },
    );
  });

  it('hold their own frames, visits and watched time', () => {
    const truth = visits([
      [10, 20],
      [60, 70],
    ]);
    const times = Float64Array.from({ length: 100 }, (_, k) => k);
    const clip = {
      times,
      truth,
      outcomes: outcomesAt(times, (t) => [t + 1], truth),
    };
    const block = blockOf(clip, { start: 53, end: 100 });
    expect([...block.times.slice(0, 2)]).toEqual([53, 54]);
    expect(block.truth.visits).toEqual([{ start: 60, end: 70 }]);
    expect(block.truth.watchedSeconds).toBeCloseTo(37, 9);
    // A trigger at 59 s takes its photo at 60 s: of the block's only visit.
    expect(block.outcomes.visitList[block.outcomes.visitStart[59 - 53]!]).toBe(0);
  });
});
