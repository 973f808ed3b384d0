import { describe, expect, it } from 'vitest';
import { onClip, setRight } from '../../src/fit/fired/clock.js';
import { bestApart, OffsetFinder } from '../../src/fit/search/offsets.js';

const told = (times: readonly number[], offset: number, drift: number) =>
  Float64Array.from(times, (time) => time * (1 + drift) + offset);

describe("the camera's clock", () => {
  it('is set right by what is left of pairs, also where it drifts a second an hour', () => {
    const times = Array.from({ length: 60 }, (_, i) => 37 + 120 * i);
    const camera = told(times, 12, 1 / 3600);
    const wrong = { offset: 11.2, drift: 0 };
    const pairs = Array.from(onClip(camera, wrong), (time, i) => ({ at: times[i]!, late: time - times[i]! }));
    const { offset, drift } = setRight(wrong, pairs);
    expect(3600 * drift).toBeCloseTo(1, 2);
    expect(offset).toBeCloseTo(12, 2);
  });

  it('no drift is told from a few minutes', () => {
    const pairs = Array.from({ length: 40 }, (_, i) => ({ at: 10 * i, late: 0.01 * i }));
    expect(setRight({ offset: 0, drift: 0 }, pairs).drift).toBe(0);
  });
});

describe('the offset', () => {
  const predicted = [3, 11, 14, 30, 41, 47, 70, 88, 93, 120];

  it.each([41.3, -58.6, 0])('of %d s is found among times of which some are missing', (offset) => {
    const camera = told(
      predicted.filter((_, i) => i !== 4),
      offset,
      0,
    );
    const found = new OffsetFinder(camera, -65, 65, 0.5).best(predicted, predicted.length);
    expect(found.offset).toBeCloseTo(offset, 0);
    expect(found.share).toBeCloseTo(18 / 19, 9);
  });

  it('is found among those of a whole day', () => {
    const camera = told(predicted, 61_234.5, 0);
    const found = new OffsetFinder(camera, -86_400, 86_400, 0.5).best(predicted, predicted.length);
    expect(found.offset).toBeCloseTo(61_234.5, 0);
    expect(found.share).toBe(1);
  });

  it('is the smallest in reach, and no pair meets, where all lie farther apart', () => {
    const find = (lowest: number, highest: number) =>
      new OffsetFinder(Float64Array.of(5000, 5100), lowest, highest, 0.5).best([1, 2], 2);
    expect(find(-65, 65)).toEqual({ offset: 0, share: 0 });
    expect(find(20, 65)).toEqual({ offset: 20, share: 0 });
  });

  it('reaches to the ends of what is tried', () => {
    const found = new OffsetFinder(Float64Array.of(65), -65, 65, 0.5).best([0], 1);
    expect(found.share).toBe(1);
    expect(Math.abs(found.offset - 65)).toBeLessThanOrEqual(0.5);
  });

  it('others are looked into only where they lie apart', () => {
    const tried = [
      { offset: 1, share: 0.9 },
      { offset: 1.2, share: 0.95 },
      { offset: 9, share: 0.8 },
    ];
    expect(bestApart(tried, 1, 2).map(({ offset }) => offset)).toEqual([1.2, 9]);
  });
});
