import type { Random } from '../base/random.js';

/** Smaller drops are neither seen nor felt by a leaf; mm. */
export const SMALLEST = 1;
/** Larger drops break up; mm. */
const LARGEST = 5.8;
/** Drops per cubic metre and mm of diameter at diameter 0 (Marshall & Palmer 1948; 8000 from memory). */
const N0 = 8000;
const STEP = 0.02;

/** Slope of the drop sizes at `rain` mm/h, per mm (Marshall & Palmer 1948). */
export function slope(rain: number): number {
  return 4.1 * rain ** -0.21;
}

/** Drops in a cubic metre of more than `diameter` mm: the integral of N0 exp(-slope D) (Marshall & Palmer 1948). */
export function dropsAbove(diameter: number, rain: number): number {
  return rain > 0 ? (N0 / slope(rain)) * Math.exp(-slope(rain) * diameter) : 0;
}

/** Terminal speed of a drop of `diameter` mm, m/s (Atlas et al. 1973). */
export function fallSpeed(diameter: number): number {
  return Math.max(0, 9.65 - 10.3 * Math.exp(-0.6 * diameter));
}

/** Drops of SMALLEST and more that strike a level square metre in a second. */
export function strikes(rain: number): number {
  if (rain <= 0) return 0;
  let sum = 0;
  for (let d = SMALLEST + STEP / 2; d < LARGEST; d += STEP) {
    sum += N0 * Math.exp(-slope(rain) * d) * fallSpeed(d) * STEP;
  }
  return sum;
}

/** Diameter of one of the drops above SMALLEST in a volume, mm; `perMm` is the slope of their sizes. */
export function drawDiameter(perMm: number, dice: Random): number {
  return Math.min(LARGEST, SMALLEST - Math.log(1 - dice()) / perMm);
}
