/**
 * Wind speed 10 m above ground for a Beaufort number, m/s: v = 0.836 B^1.5 (the scale's empirical formula, from memory;
 * half-way between two numbers it gives the limits tabled in WMO No. 8, Guide to Instruments and Methods of Observation).
 *
 * @param beaufort from 0; need not be whole
 */
export function beaufortSpeed(beaufort: number): number {
  return 0.836 * beaufort ** 1.5;
}

/** The Beaufort number of a wind speed 10 m above ground in m/s, not rounded: the inverse of `beaufortSpeed`. */
export function beaufortOf(speed: number): number {
  return (speed / 0.836) ** (2 / 3);
}
