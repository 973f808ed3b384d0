import { expect, it } from 'vitest';
import { timeLeft } from '../../src/base/time-left.js';

it.each([
  [1000, 0, 100, null],
  [1000, 4, 100, null],
  [1000, 10, 100, 'about 9 s left'],
  [30_000, 20, 100, 'about 2 min left'],
  [5000, 100, 100, 'about 0 s left'],
] as const)('after %d ms and %d of %d: %s', (elapsed, done, total, says) => {
  expect(timeLeft(elapsed, done, total)).toBe(says);
});
