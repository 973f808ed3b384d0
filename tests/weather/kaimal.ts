/**
 * Spectrum of the along-wind speed over flat ground, n S(n) / u*^2 at reduced frequency f = n z / U
 * (Kaimal et al. 1972, Q. J. R. Meteorol. Soc. 98:563-589). The program uses shares of its integral only.
 */
export function kaimal(f: number): number {
  return (105 * f) / (1 + 33 * f) ** (5 / 3);
}
