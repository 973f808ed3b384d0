import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { fitPareto, paretoAbove } from './pareto.js';

/** The excess that a share of them stays above: the tail turned round, of which the file under test holds only the other way. */
const quantile = (above: number, scale: number, shape: number) =>
  shape === 0 ? -scale * Math.log(above) : (scale * (above ** -shape - 1)) / shape;

describe('generalised Pareto tails', () => {
  it.each([
    [7.44, 0.184],
    [10, 0],
    [3, -0.3],
  ])('give the share above each quantile of scale %d and shape %d back', (scale, shape) => {
    for (const above of [0.9, 0.5, 0.1, 0.01]) {
      expect(paretoAbove({ scale, shape }, quantile(above, scale, shape))).toBeCloseTo(above, 10);
    }
  });

  it('end where a bounded one ends: at scale / -shape', () => {
    expect(paretoAbove({ scale: 3, shape: -0.3 }, 9.9)).toBeGreaterThan(0);
    expect(paretoAbove({ scale: 3, shape: -0.3 }, 10.1)).toBe(0);
  });

  // Scale and shape as Coles 2001, An Introduction to Statistical Modeling of Extreme Values, example 4.4.1 gives them for
  // daily rainfall above 30 mm (from memory). The data itself is not at hand, so it is drawn.
  it('are found again in many drawn excesses', () => {
    const random = seedrandom('rain');
    const rain = Array.from({ length: 200_000 }, () => quantile(1 - random(), 7.44, 0.184));
    const { scale, shape } = fitPareto(rain)!;
    expect(Math.abs(scale - 7.44)).toBeLessThan(0.15);
    expect(Math.abs(shape - 0.184)).toBeLessThan(0.015);
  });

  // By hand, Hosking & Wallis 1987 (from memory): of 1, 2, 6 and 11 a0 = 5 and a1 = (1 + 2 * 2/3 + 6 / 3) / 4 = 13/12, so that
  // shape = 2 - 5 / (17/6) = 4/17 and scale = 2 * 5 * 13/12 / (17/6) = 65/17.
  it('have the closed form of probability-weighted moments', () => {
    const { scale, shape } = fitPareto([6, 1, 11, 2])!;
    expect(shape).toBeCloseTo(4 / 17, 10);
    expect(scale).toBeCloseTo(65 / 17, 10);
  });

  it('are drawn to the usual shape where few excesses tell', () => {
    expect(fitPareto([6, 1, 11, 2], 0.1, 4)!.shape).toBeCloseTo((4 / 17 + 0.1) / 2, 10);
    expect(fitPareto([5], 0.1, 4)).toEqual({ shape: 0.1, scale: 4.5 });
    expect(fitPareto([])).toBeNull();
  });
});
