import { expect, it } from 'vitest';
import { nearestPlace } from '../../src/base/nearest.js';

it.each([
  [0.9, 1],
  [0.4, 0],
  // Of two equally near, the earlier; however times are rounded.
  [0.5, 0],
  [2.3, 2],
  [2.3 + 1e-12, 2],
  [-5, 0],
  [99, 3],
])('the time nearest to %d of 0, 1, 2 and 2.6 s stands at %d', (time, place) => {
  expect(nearestPlace([0, 1, 2, 2.6], time)).toBe(place);
});

it('of no times it is 0', () => {
  expect(nearestPlace([], 3)).toBe(0);
});
