import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  agreementOf,
  closeness,
  exactCloseness,
  f1From,
  lateness,
  momentsOf,
} from '../../src/fit/score/agreement.js';

const times = fc
  .array(fc.integer({ min: 0, max: 60 }), { maxLength: 7 })
  .map((all) => Float64Array.from([...all].sort((a, b) => a - b)));

/** The most pairs of all matchings, by trying each. */
function mostPairs(a: readonly number[], b: readonly number[], within: number): number {
  const [first, ...rest] = a;
  if (first === undefined) return 0;
  let most = mostPairs(rest, b, within);
  b.forEach((other, j) => {
    if (Math.abs(first - other) > within) return;
    most = Math.max(most, 1 + mostPairs(rest, [...b.slice(0, j), ...b.slice(j + 1)], within));
  });
  return most;
}

describe('fired times held against predicted ones', () => {
  it('one predicted time answers for one fired time only', () => {
    const { matched, extra, missing, f1 } = agreementOf(Float64Array.of(10, 10.2), [10.1, 30], { most: 0.5 });
    expect({ matched, extra, missing }).toEqual({ matched: 1, extra: 1, missing: 1 });
    expect(f1).toBeCloseTo(0.5, 12);
  });

  it('matches as many as any matching does', () => {
    fc.assert(
      fc.property(times, times, fc.integer({ min: 0, max: 9 }), (fired, predicted, most) => {
        expect(agreementOf(fired, predicted, { most }).matched).toBe(
          mostPairs([...fired], [...predicted], most),
        );
      }),
    );
  });

  it('closeness is F1 where all matches are in time, and less where they are late', () => {
    const fired = Float64Array.of(10, 20, 30);
    const tolerance = { most: 1, free: 0.2, span: null };
    expect(closeness(fired, [10.1, 20, 29.9], 3, tolerance)).toBe(1);
    const late = closeness(fired, [11, 20, 30], 3, tolerance);
    expect(late).toBeGreaterThan(agreementOf(fired, [50, 20, 30], tolerance).f1);
    expect(late).toBeLessThan(1);
  });

  it('whole seconds are explained by one offset that leaves less than a second open, and by nothing that needs more', () => {
    const tolerance = { most: 2, free: 0.6, span: 1 };
    const right = fc.array(fc.integer({ min: 0, max: 4000 }), { minLength: 1, maxLength: 30 });
    fc.assert(
      fc.property(right, fc.integer({ min: -9, max: 9 }), (steps, ahead) => {
        // Frames of a tenth of a second, far enough apart for each to have its own time.
        const predicted = [...new Set(steps)].sort((a, b) => a - b).map((step, i) => step / 10 + 5 * i);
        const fired = Float64Array.from(predicted, (time) => Math.floor(time + ahead / 10));
        expect(exactCloseness(fired, predicted, predicted.length, tolerance)).toBe(1);
      }),
    );
    // 10.0 told as 10 and 20.9 told as 20 are of one clock; 21.0 told as 20 is not.
    const fired = Float64Array.of(10, 20);
    expect(exactCloseness(fired, [10, 20.9], 2, tolerance)).toBe(1);
    expect(exactCloseness(fired, [10, 21], 2, tolerance)).toBeLessThan(1);
    expect(exactCloseness(fired, [10, 21], 2, tolerance)).toBeGreaterThan(
      exactCloseness(fired, [10, 40], 2, tolerance),
    );
  });

  it('pairs across a cut count where they were fired, so that nothing is missing on either side of it', () => {
    const fired = Float64Array.of(10, 49.8, 60, 70, 80);
    const moments = momentsOf(fired, [10, 50.1, 60, 70.4, 80], { most: 0.5 });
    expect(f1From(moments, 50)).toBe(1);
    expect(f1From(momentsOf(fired, [10, 60, 70, 79, 90], { most: 0.5 }), 50)).toBeCloseTo(4 / 7, 12);
    expect(f1From(moments, 90)).toBe(0);
  });

  it('says how late each is', () => {
    const pairs = lateness(Float64Array.of(11, 30.5), [10, 20, 30], { most: 2 });
    expect(pairs).toEqual([
      { place: 0, at: 10, late: 1 },
      { place: 1, at: 30, late: 0.5 },
    ]);
  });
});
