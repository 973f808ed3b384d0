import type { Expected } from './expected.js';
import { inflationAgain } from './predict.js';
import { negativeBinomialAtMost } from './predictive.js';

/** How much more than Poisson false triggers scatter from recording to recording at least, as a ratio of variances. */
const SCATTER = 2;
/** None expected is not none to come. */
const LEAST = 0.5;

/**
 * Expected part by which the false triggers of a setting exceed what is allowed, E[(X / allowed - 1)+], where the long-run
 * number X is log-normal about what is expected with the variance of a count that scatters as its bouts do, at least SCATTER
 * times as much as Poisson.
 */
export function expectedOvershoot(
  { falseTriggers, scatter }: Expected,
  setting: number,
  allowed: number,
): number {
  const mean = falseTriggers[setting]! + LEAST;
  const limit = Math.max(allowed, LEAST);
  const spread = Math.sqrt(Math.log(1 + Math.max(SCATTER, scatter[setting]!) / mean));
  const z = (Math.log(mean / limit) - spread ** 2 / 2) / spread;
  return (mean / limit) * normalBelow(z + spread) - normalBelow(z);
}

/** The probability that a setting keeps what is allowed on as much footage again. */
export function chanceOfKeeping(
  { falseTriggers, scatter, units }: Expected,
  setting: number,
  allowed: number,
): number {
  return chanceWith(falseTriggers[setting]!, scatter[setting]!, units, allowed);
}

/** The same of a setting that never fired falsely, nor any around it: more than that no footage of this length can show. */
export function chanceIfNeverFalse(allowed: number, units: number): number {
  return chanceWith(0, SCATTER, units, allowed);
}

/**
 * Watched hours, in one recording, without a false trigger before an allowance can be told to be kept with a probability on as much
 * footage again; infinite for an allowance of 0.
 */
export function hoursToBeSure(falsePerHour: number, sure: number): number {
  if (falsePerHour <= 0) return Number.POSITIVE_INFINITY;
  let allowed = 0;
  while (chanceIfNeverFalse(allowed, 1) < sure) allowed++;
  return allowed / falsePerHour;
}

function chanceWith(falseTriggers: number, scatter: number, units: number, allowed: number): number {
  const own = Math.max(SCATTER, scatter);
  // Half a bout (Jeffreys): none seen is not none ever.
  const mean = falseTriggers + 0.5 * own;
  return negativeBinomialAtMost(allowed, mean, inflationAgain(mean, own, units));
}

/** P(Z <= z) for a standard normal Z; Abramowitz & Stegun 1964, 7.1.26, to 1.5e-7. */
function normalBelow(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const series =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const above = (series * Math.exp(-x * x)) / 2;
  return z < 0 ? above : 1 - above;
}
