import { expect, it } from 'vitest';
import { t90, t95 } from '../../src/score/student.js';

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

// The same tables, one-sided 90 %.
it.each([
  [1, 3.078],
  [2, 1.886],
  [3, 1.638],
  [7, 1.415],
  [15, 1.341],
  [30, 1.31],
  [120, 1.289],
])('t with %i degrees of freedom lies below %f in 90 %% of cases', (freedom, value) => {
  expect(Math.abs(t90(freedom) - value)).toBeLessThan(0.008);
});
