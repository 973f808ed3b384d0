import { expect, it } from 'vitest';
import { poisson, quickRandom } from '../../src/base/random.js';

it('counts no more at once than can be drawn, however many there would be', () => {
  const r = quickRandom('1', 'test');
  expect(poisson(r, 400_000)).toBe(400_000);
  expect(poisson(r, 1e12)).toBe(500_000);
  expect(poisson(r, Number.POSITIVE_INFINITY)).toBe(500_000);
});
