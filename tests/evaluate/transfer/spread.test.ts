import { expect, it } from 'vitest';
import { spreadOf } from './spread.js';

it('gives quartiles of ratios by their logarithms, and shares within a factor either way', () => {
  const { settings, low, median, high, within } = spreadOf([4, 0.25, 1, 2, 0.5]);
  expect([settings, low, median, high]).toEqual([5, 0.5, 1, 2]);
  expect(spreadOf([1, 4]).median).toBeCloseTo(2, 10);
  expect(spreadOf([1, 10, 100]).at(0.75)).toBeCloseTo(10 ** 1.5, 10);
  expect([within(1.5), within(2), within(3), within(4)]).toEqual([0.2, 0.6, 0.6, 1]);
});

it('has no middle of nothing', () => {
  expect(spreadOf([]).median).toBeNaN();
  expect(spreadOf([]).within(3)).toBe(0);
});
