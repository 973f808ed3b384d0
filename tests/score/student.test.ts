import { expect, it } from 'vitest';
import { t95 } from '../../src/score/student.js';

// Published tables of Student's t, one-sided 95 %.
it.each([
  [1, 6.314],
  [2, 2.92],
  [3, 2.353],
  [4, 2.132],
  [7, 1.895],
  [15, 1.753],
  [30, 1.697],
  [120, 1.658],
])('t with %i degrees of freedom lies below %f in 95 %% of cases', (freedom, value) => {
  expect(Math.abs(t95(freedom) - value)).toBeLessThan(0.008);
});
