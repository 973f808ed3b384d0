import { Z90 } from './intervals.js';

/**
 * The value below which Student's t with so many degrees of freedom lies in 95 % of cases: Abramowitz & Stegun 1964,
 * 26.7.5; within 0.007 from 3 degrees on, 0.001 from 5. For 1 and 2 degrees, where that falls short, exactly.
 * @param freedom degrees of freedom, 1 or more
 */
export function t95(freedom: number): number {
  return quantile(freedom, 0.9, Z90);
}

/** The same for 90 %. */
export function t90(freedom: number): number {
  return quantile(freedom, 0.8, Z80);
}

/** Half the width of an 80 % interval of a standard normal. */
const Z80 = 1.281552;

/** @param within the share that lies no farther from 0 on either side, and `z` where that is for a standard normal */
function quantile(freedom: number, within: number, z: number): number {
  if (freedom === 1) return Math.tan((within / 2) * Math.PI);
  if (freedom === 2) return within * Math.sqrt(2 / (1 - within ** 2));
  return (
    z +
    (z ** 3 + z) / (4 * freedom) +
    (5 * z ** 5 + 16 * z ** 3 + 3 * z) / (96 * freedom ** 2) +
    (3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / (384 * freedom ** 3)
  );
}
