import { describe, expect, it } from 'vitest';
import { betaBinomial, negativeBinomial, quantiles } from '../../src/tune/predictive.js';

const moments = (p: Float64Array) => {
  const mean = p.reduce((sum, x, k) => sum + k * x, 0);
  return { mean, variance: p.reduce((sum, x, k) => sum + (k - mean) ** 2 * x, 0) };
};

describe('beta-binomial', () => {
  it('has the mean asked for and the binomial variance times the inflation', () => {
    const { mean, variance } = moments(betaBinomial(24, 0.3, 2.6));
    expect(mean).toBeCloseTo(7.2, 9);
    expect(variance).toBeCloseTo(24 * 0.3 * 0.7 * 2.6, 6);
  });

  // Bayes 1763, Laplace 1774 (common knowledge): with a uniform prior every count from 0 to n is equally likely. Then
  // a = b = 1, and the variance is n (n + 2) / 12 against n / 4 for the binomial.
  it('is uniform for a chance that may be anything', () => {
    const n = 10;
    for (const p of betaBinomial(n, 0.5, (n + 2) / 3)) expect(p).toBeCloseTo(1 / (n + 1), 6);
  });

  it('is the binomial where nothing is inflated', () => {
    // C(4, k) / 16
    const expected = [1, 4, 6, 4, 1].map((c) => c / 16);
    betaBinomial(4, 0.5, 1).forEach((p, k) => {
      expect(p).toBeCloseTo(expected[k]!, 6);
    });
  });
});

describe('negative binomial', () => {
  it('has the mean asked for and the Poisson variance times the inflation', () => {
    const { mean, variance } = moments(negativeBinomial(3.5, 2.4));
    expect(mean).toBeCloseTo(3.5, 6);
    expect(variance).toBeCloseTo(3.5 * 2.4, 4);
  });

  // Of size 1 it is the geometric distribution: each count half as likely as the one before, at mean 1.
  it('is geometric where its size is 1', () => {
    const p = negativeBinomial(1, 2);
    for (let k = 0; k < 10; k++) expect(p[k]).toBeCloseTo(0.5 ** (k + 1), 6);
  });
});

describe('quantiles', () => {
  it('leave at most the tail on either side', () => {
    const p = Float64Array.from([0.04, 0.02, 0.9, 0.03, 0.01]);
    expect(quantiles(p, 0.05)).toEqual([1, 2]);
  });
});
