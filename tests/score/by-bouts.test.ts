import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { BOUT, boutBalances, boutsOf } from '../../src/score/bouts.js';
import { rateByBouts, ratioByBouts } from '../../src/score/by-bouts.js';
import { gammaBelow, gammaQuantile } from '../../src/score/gamma.js';
import { poissonRate, type Rate, type Ratio, wilson } from '../../src/score/intervals.js';
import { poissonCount } from './poisson-count.js';

describe('bouts', () => {
  it('hold what lies within 30 seconds of the first, clip by clip', () => {
    expect(boutsOf([0, 10, BOUT, BOUT + 0.1, 100])).toEqual(
      expect.objectContaining({ bouts: 3, squares: 11 }),
    );
    expect(boutsOf([])).toEqual(expect.objectContaining({ bouts: 0, squares: 0 }));
  });

  it('balance what is new against what is gone', () => {
    expect(boutBalances([0, 10, 200], [5, 100])).toEqual([1, -1, 1]);
  });
});

describe('the gamma distribution', () => {
  // Upper 5 % points of chi-squared with 2, 10 and 30 degrees of freedom, as in any table: 5.991, 18.307, 43.773.
  it.each([
    [1, 5.991],
    [5, 18.307],
    [15, 43.773],
  ])('of shape %d agrees with the table of chi-squared', (shape, point) => {
    expect(2 * gammaQuantile(shape, 0.95)).toBeCloseTo(point, 3);
  });

  it('gives the exact Poisson interval for whole counts', () => {
    for (const n of [1, 3, 12, 80]) {
      const exact = poissonRate(n, 1) as Rate;
      expect(gammaQuantile(n, 0.05)).toBeCloseTo(exact.low, 8);
      expect(gammaQuantile(n + 1, 0.95)).toBeCloseTo(exact.high, 8);
    }
  });

  it('rises from 0 to 1', () => {
    expect(gammaBelow(2.5, 0)).toBe(0);
    expect(gammaBelow(2.5, 200)).toBeCloseTo(1, 12);
    expect(gammaBelow(0.5, 0.5)).toBeCloseTo(0.682689, 6); // within one standard deviation of a normal
  });
});

describe('intervals by bouts', () => {
  const rate = (n: number, hours = 1) => poissonRate(n, hours) as Rate;
  const ratio = (yes: number, n: number) => wilson(yes, n) as Ratio;
  const single = (n: number) => ({ bouts: n, squares: n });

  it('are never narrower than those of single triggers', () => {
    for (const n of [0, 1, 2, 5, 40]) {
      const by = rateByBouts(rate(n), single(n), 1);
      expect(by.low).toBeLessThanOrEqual(rate(n).low);
      expect(by.high).toBeGreaterThanOrEqual(rate(n).high);
      const share = ratioByBouts(ratio(n, n + 3), single(n), single(3));
      expect(share.low).toBeLessThanOrEqual(ratio(n, n + 3).low);
      expect(share.high).toBeGreaterThanOrEqual(ratio(n, n + 3).high);
    }
  });

  it('come near those of single triggers where there are many and none bunch', () => {
    const by = rateByBouts(rate(400), single(400), 1);
    expect(by.high / rate(400).high).toBeLessThan(1.01);
  });

  it('are as wide as a few bouts make them, and say how many these are', () => {
    // 40 triggers in four bouts of ten say about as much as four.
    const by = rateByBouts(rate(40), { bouts: 4, squares: 400 }, 1);
    expect(by.n).toBe(4);
    expect(by.low).toBeLessThan(20);
    expect(by.high).toBeGreaterThan(80);
    const share = ratioByBouts(ratio(40, 80), { bouts: 4, squares: 400 }, { bouts: 4, squares: 400 });
    expect(share.n).toBe(8);
    expect(share.high - share.low).toBeGreaterThan(0.45);
  });

  it('know that a share near 1 rests on the few bouts of the others', () => {
    const spread = ratioByBouts(ratio(90, 100), single(90), single(10));
    const bunched = ratioByBouts(ratio(90, 100), single(90), { bouts: 1, squares: 100 });
    expect(bunched.low).toBeLessThan(spread.low - 0.1);
  });

  it('hold about nine times in ten where triggers come in bouts', () => {
    const random = seedrandom('bouts');
    const poisson = (mean: number) => poissonCount(mean, random);
    const runs = 1000;
    let held = 0;
    let heldBySingle = 0;
    for (let run = 0; run < runs; run++) {
      const sizes = Array.from({ length: poisson(10) }, () => 1 + Math.floor(8 * random()));
      const n = sizes.reduce((sum, size) => sum + size, 0);
      const by = rateByBouts(
        rate(n),
        { bouts: sizes.length, squares: sizes.reduce((s, k) => s + k * k, 0) },
        1,
      );
      if (by.low <= 45 && by.high >= 45) held++;
      if (rate(n).low <= 45 && rate(n).high >= 45) heldBySingle++;
    }
    expect(held / runs).toBeGreaterThan(0.87);
    expect(held / runs).toBeLessThan(0.97);
    expect(heldBySingle / runs).toBeLessThan(0.75);
  });
});
