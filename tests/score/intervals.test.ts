import { describe, expect, it } from 'vitest';
import { fBeta, poissonRate, wilson } from '../../src/score/intervals.js';

/** 97.5 % point of the standard normal: two-sided 95 %, the level of Newcombe's table. */
const Z95 = 1.959963984540054;

describe('wilson', () => {
  // Newcombe 1998, Statistics in Medicine 17:857-872, Table I, method 3 (rows 81/263 and 15/148 read there; 0/20 and 1/29 from memory).
  it.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])('gives the interval of %i in %i at 95 per cent', (count, n, low, high) => {
    const ratio = wilson(count, n, Z95);
    expect(ratio?.low).toBeCloseTo(low, 4);
    expect(ratio?.high).toBeCloseTo(high, 4);
  });

  it('is null where there is nothing to take a share of', () => {
    expect(wilson(0, 0)).toBeNull();
  });

  it('holds its own value and stays between 0 and 1', () => {
    for (let n = 1; n <= 40; n++) {
      for (let k = 0; k <= n; k++) {
        const { value, low, high } = wilson(k, n) as NonNullable<ReturnType<typeof wilson>>;
        expect(low >= 0 && low <= value && value <= high && high <= 1, `${k}/${n}`).toBe(true);
      }
    }
  });
});

describe('poissonRate', () => {
  // Garwood 1936, Biometrika 28:437-442: exact 90 % limits of a Poisson mean (from memory; also half the 5 % and
  // 95 % points of chi-squared with 2n and 2n + 2 degrees of freedom, found in any table).
  it.each([
    [0, 0, 2.9957],
    [1, 0.0513, 4.7439],
    [2, 0.3554, 6.2958],
    [5, 1.9701, 10.513],
    [10, 5.4254, 16.9622],
  ])('has the exact limits of a mean at %i seen', (count, low, high) => {
    const rate = poissonRate(count, 1);
    expect(rate?.low).toBeCloseTo(low, 3);
    expect(rate?.high).toBeCloseTo(high, 3);
  });

  it('is per hour', () => {
    const rate = poissonRate(2, 0.05);
    expect(rate?.value).toBeCloseTo(40, 12);
    expect(rate?.low).toBeCloseTo(7.1, 1);
    expect(rate?.high).toBeCloseTo(125.9, 1);
  });

  it('is null where nothing was watched', () => {
    expect(poissonRate(0, 0)).toBeNull();
  });

  it('nears the normal interval where the count is large', () => {
    const rate = poissonRate(40_000, 1);
    expect(rate?.low).toBeCloseTo(40_000 - 1.645 * 200, -1);
    expect(rate?.high).toBeCloseTo(40_000 + 1.645 * 200, -1);
  });
});

describe('fBeta', () => {
  // Computed from the definition, van Rijsbergen 1979.
  it.each([
    [0.8, 0.6, 0.5, 0.75],
    [0.8, 0.6, 1, 0.6857],
    [0.8, 0.6, 2, 0.6316],
  ])('of precision %f and recall %f at beta %f', (precision, recall, beta, expected) => {
    expect(fBeta(precision, recall, beta)).toBeCloseTo(expected, 4);
  });

  // Worked example of a published evaluation guide, read there.
  it('of precision .1 and recall .8 is far below their mean', () => {
    expect(fBeta(0.1, 0.8)).toBeCloseTo(0.17778, 5);
  });

  it('is null where a part is, and 0 where both are 0', () => {
    expect(fBeta(null, 0.5)).toBeNull();
    expect(fBeta(0, 0)).toBe(0);
  });
});
