/**
 * Share of all variance of the along-wind speed over flat ground that lies between two reduced frequencies f = n z / U:
 * the spectrum n S(n) / u*^2 = 105 f / (1 + 33 f)^(5/3) integrated over ln f
 * (Kaimal et al. 1972, Q. J. R. Meteorol. Soc. 98:563-589).
 */
export function kaimalShare(from: number, to: number): number {
  return (1 + 33 * from) ** (-2 / 3) - (1 + 33 * to) ** (-2 / 3);
}

/** One wave of a random series: amplitude * cos(2 pi frequency t + phase). */
export interface Wave {
  /** Hertz. */
  frequency: number;
  amplitude: number;
  phase: number;
}

/**
 * Waves that add up to a Gaussian-like series with Kaimal's spectrum between two frequencies, of standard deviation
 * `deviation` over the whole spectrum. Spectral synthesis (Shinozuka & Jan 1972, J. Sound Vib. 25:111-128, from memory): in each of
 * `count` bands, even in ln n, one wave at a random frequency carries the band's variance; random places within the
 * bands keep the series from repeating.
 *
 * @param low Hertz, as `high`
 * @param timescale z / U, seconds
 */
export function synthesise(
  low: number,
  high: number,
  count: number,
  timescale: number,
  deviation: number,
  random: () => number,
): Wave[] {
  const ratio = (high / low) ** (1 / count);
  return Array.from({ length: count }, (_, i) => {
    const from = low * ratio ** i;
    const share = kaimalShare(from * timescale, from * ratio * timescale);
    return {
      frequency: from * ratio ** random(),
      amplitude: deviation * Math.sqrt(2 * share),
      phase: 2 * Math.PI * random(),
    };
  });
}

/** The sum of all waves at `time`, seconds. */
export function sumOf(waves: readonly Wave[], time: number): number {
  let sum = 0;
  for (const w of waves) sum += w.amplitude * Math.cos(2 * Math.PI * w.frequency * time + w.phase);
  return sum;
}
