import { Z90 } from './intervals.js';

/**
 * The value below which Student's t with so many degrees of freedom lies in 95 % of cases: Abramowitz & Stegun 1964,
 * 26.7.5; within 0.007 from 3 degrees on, 0.001 from 5. For 1 and 2 degrees, where that falls short, exactly.
 * @param freedom degrees of freedom, 1 or more
 */
export function t95(freedom: number): number {
  if (freedom === 1) return Math.tan(0.45 * Math.PI);
  if (freedom === 2) return 0.9 * Math.sqrt(2 / (1 - 0.9 ** 2));
  const z = Z90;
  return (
    z +
    (z ** 3 + z) / (4 * freedom) +
    (5 * z ** 5 + 16 * z ** 3 + 3 * z) / (96 * freedom ** 2) +
    (3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / (384 * freedom ** 3)
  );
}
