import type { Bouts } from './bouts.js';
import { gammaQuantile } from './gamma.js';
import { type Interval, type Rate, type Ratio, wilson } from './intervals.js';

/**
 * How much more than single triggers counts of them scatter, as a ratio of variances, at least 1. Where bouts come by
 * chance, the variance of the triggers in them is the sum of their squared sizes (a compound Poisson count; McCullagh &
 * Nelder 1989, section 4.5 for what is then done with it). A bout of two is added to those seen, so that few that happened
 * to be single, or none, do not pass for proof that none bunch.
 */
export function scatterOfBouts(triggers: number, { squares }: Pick<Bouts, 'squares'>): number {
  return Math.max(1, (squares + 4) / (triggers + 2));
}

/**
 * The 90 % interval of a rate with bouts as the units: that of so many bouts of the size a trigger finds itself in, and
 * nowhere within the one of single triggers. The gamma form of the exact Poisson interval holds for counts that are not whole
 * (Fay & Feuer 1997, Statistics in Medicine 16:791-801, from memory).
 */
export function rateByBouts(rate: Rate, bouts: Bouts, hours: number, tail = 0.05): Interval {
  const scatter = scatterOfBouts(rate.n, bouts);
  const units = rate.n / scatter;
  const low = (scatter * gammaQuantile(units, tail)) / hours;
  const high = (scatter * gammaQuantile(units + 1, 1 - tail)) / hours;
  return { low: Math.min(rate.low, low), high: Math.max(rate.high, high), n: bouts.bouts };
}

/**
 * The 90 % interval of a share of triggers with bouts as the units: Wilson's for as many triggers as would say as much if
 * each stood for itself (an effective sample size: Kish 1965, Survey Sampling; Korn & Graubard 1998, Survey Methodology
 * 24:193-201; from memory), and nowhere within the one of single triggers.
 * @param yes bouts of the triggers counted in
 * @param no bouts of the others
 */
export function ratioByBouts(ratio: Ratio, yes: Bouts, no: Bouts): Interval {
  const { value, n } = ratio;
  const alike = scatterOfBouts(n, { squares: yes.squares + no.squares });
  // Where one kind bunches and the other does not, each weighs as far as it is from the mean.
  const spread = value * (1 - value) * n;
  const apart = spread > 0 ? ((1 - value) ** 2 * yes.squares + value ** 2 * no.squares) / spread : 1;
  const units = n / Math.max(alike, apart);
  const by = wilson(value * units, units) as Ratio;
  return {
    low: Math.min(ratio.low, by.low),
    high: Math.max(ratio.high, by.high),
    n: yes.bouts + no.bouts,
  };
}
