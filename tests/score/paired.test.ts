import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { holm, leastP, signFlip } from '../../src/score/paired.js';

const ones = (lost: number, gained: number) => [...Array(lost).fill(-1), ...Array(gained).fill(1)];
const seeded = { seed: 6, numRuns: 60 };

describe('signFlip', () => {
  // Exact McNemar, p = 2 P(Bin(b + c, 1/2) <= min(b, c)), as published with statistics packages' worked examples.
  it.each([
    [70, 59, 0.378688],
    [30, 60, 0.00206],
    [10, 30, 0.002221],
    [10, 10, 1],
    [1, 9, 0.021484],
    [0, 5, 0.0625],
    [0, 6, 0.03125],
  ])('is the exact McNemar test of %i lost and %i gained', (lost, gained, p) => {
    expect(signFlip(ones(lost, gained))).toBeCloseTo(p, 6);
  });

  it('is the share of all ways to give signs that lean at least as far', () => {
    const differences = fc.array(fc.integer({ min: -6, max: 6 }), { maxLength: 9 });
    fc.assert(
      fc.property(differences, (all) => {
        const seen = Math.abs(all.reduce((sum, d) => sum + d, 0));
        let far = 0;
        for (let signs = 0; signs < 2 ** all.length; signs++) {
          const sum = all.reduce((total, d, i) => total + ((signs >> i) & 1 ? d : -d), 0);
          if (Math.abs(sum) >= seen) far++;
        }
        expect(signFlip(all)).toBeCloseTo(far / 2 ** all.length, 12);
      }),
      seeded,
    );
  });

  it('gives the same last digit in any order', () => {
    const many = Array.from({ length: 90 }, (_, i) => ((i * 7) % 11) - 4);
    expect(signFlip(many.toReversed())).toBe(signFlip(many));
  });

  it.each([
    [100_000, 100_000],
    [100_000, 100_100],
    [100_000, 100_900],
    [100_000, 102_000],
  ])('is the binomial one of %i and %i too, where there are too many to be exact', (lost, gained) => {
    // P(Bin(n, 1/2) <= lost) summed downwards from its largest term, by logarithms.
    const n = lost + gained;
    let log = -n * Math.LN2;
    for (let k = 1; k <= lost; k++) log += Math.log((n - k + 1) / k);
    let sum = 0;
    for (let k = lost, term = 1; term > 1e-18; k--) {
      sum += term;
      term *= k / (n - k + 1);
    }
    const p = Math.min(1, 2 * sum * Math.exp(log));
    expect(Math.abs(signFlip(ones(lost, gained)) - p)).toBeLessThan(1e-3);
  });

  it('counts a burst of ten as one observation, not as ten', () => {
    expect(signFlip([10])).toBe(1);
    expect(signFlip(ones(0, 10))).toBeCloseTo(2 / 1024, 12);
  });
});

it('leastP is what the test gives when all differences are to one side', () => {
  for (let n = 0; n <= 12; n++) expect(signFlip(ones(0, n))).toBeCloseTo(leastP(n), 12);
});

describe('holm', () => {
  // By hand: 4 x .005, 3 x .01, 2 x .03, and .04 not below the one before it.
  it('multiplies the smallest by the number of tests, the next by one less, and never falls', () => {
    const corrected = holm([0.01, 0.04, 0.03, 0.005]);
    [0.03, 0.06, 0.06, 0.02].forEach((p, i) => {
      expect(corrected[i]).toBeCloseTo(p, 12);
    });
  });

  it('with weights is the closed test: every group of tests it belongs to must be rejected', () => {
    const test = fc.tuple(fc.double({ min: 0.001, max: 1, noNaN: true }), fc.integer({ min: 1, max: 5 }));
    fc.assert(
      fc.property(fc.array(test, { minLength: 1, maxLength: 6 }), (tests) => {
        const corrected = holm(
          tests.map(([p]) => p),
          tests.map(([, weight]) => weight),
        );
        tests.forEach((_, i) => {
          let worst = 0;
          for (let group = 0; group < 2 ** tests.length; group++) {
            if (!((group >> i) & 1)) continue;
            const members = tests.filter((_, j) => (group >> j) & 1);
            const weights = members.reduce((sum, [, weight]) => sum + weight, 0);
            worst = Math.max(worst, Math.min(...members.map(([p, weight]) => (p * weights) / weight)));
          }
          expect(corrected[i]).toBeCloseTo(Math.min(1, worst), 10);
        });
      }),
      seeded,
    );
  });
});
