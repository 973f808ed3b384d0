import { expect, it } from 'vitest';
import { spansOf } from '../../src/weather/rain/spans.js';

it('finds where values are alike side by side, and leaves out what is of no kind', () => {
  const spans = spansOf([5, 6, 0, 0, 0, 9, 250, 251], (value) => {
    if (value === 0) return undefined;
    return value > 128 ? 1 : 0;
  });
  expect([...spans]).toEqual([0, 2, 0, 5, 6, 0, 6, 8, 1]);
});

it('finds nothing in nothing', () => {
  expect(spansOf([], () => 0)).toHaveLength(0);
});
