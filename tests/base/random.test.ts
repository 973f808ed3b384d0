import { describe, expect, it, test } from 'vitest';
import { normal, poisson, quickRandom, random, seedOf, xorshift32 } from '../../src/base/random.js';

// Marsaglia 2003: the shifts 13, 17, 5 from his seed 2463534242; from memory.
test('xorshift32 gives the published numbers', () => {
  const first = xorshift32(2463534242);
  expect(first >>> 0).toBe(723471715);
  expect(xorshift32(first) >>> 0).toBe(2497366906);
});

test('each purpose has numbers of its own, the same every time', () => {
  for (const make of [random, quickRandom]) {
    const first = (seed: string, purpose: string) => make(seed, purpose)();
    expect(first('a', 'x')).toBe(first('a', 'x'));
    expect(new Set([first('a', 'x'), first('a', 'y'), first('b', 'x')]).size).toBe(3);
  }
  expect(seedOf('a', 'x')).not.toBe(seedOf('a', 'y'));
});

describe('numbers drawn', () => {
  const many = (draw: () => number) => Float64Array.from({ length: 40_000 }, draw);
  const mean = (values: Float64Array) => values.reduce((a, b) => a + b) / values.length;
  const variance = (values: Float64Array) => {
    const middle = mean(values);
    return mean(values.map((x) => (x - middle) ** 2));
  };

  it('quickly lie evenly on [0, 1): mean 1/2, variance 1/12', () => {
    const drawn = many(quickRandom('1', 'even'));
    expect(drawn.every((x) => x >= 0 && x < 1)).toBe(true);
    expect(mean(drawn)).toBeCloseTo(1 / 2, 2);
    expect(variance(drawn)).toBeCloseTo(1 / 12, 2);
  });

  it('as normal deviates have mean 0 and variance 1', () => {
    const r = random('1', 'normal');
    const drawn = many(() => normal(r));
    expect(Math.abs(mean(drawn))).toBeLessThan(0.02);
    expect(Math.abs(variance(drawn) - 1)).toBeLessThan(0.03);
  });

  it.each([0.2, 3, 40])('as Poisson counts of mean %d have that variance too', (of) => {
    const r = quickRandom('1', 'poisson');
    const drawn = many(() => poisson(r, of));
    expect(Math.abs(mean(drawn) / of - 1)).toBeLessThan(0.03);
    expect(Math.abs(variance(drawn) / of - 1)).toBeLessThan(0.05);
  });
});
