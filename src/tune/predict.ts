import { scatterOfBouts } from '../score/by-bouts.js';
import { betaBinomial, negativeBinomial, quantiles } from './predictive.js';

/** How one unit left out did under the settings chosen without it: a clip, or a block of time. */
export interface LeftOut {
  visits: number;
  caught: number;
  falseTriggers: number;
  /** The sizes of the bouts that these come in, squared and added up. */
  falseSquares: number;
  watchedHours: number;
}

/** A 90 % prediction; `n` visits, or `hours` of watching, again in like conditions. */
export interface RecallPrediction {
  value: number;
  low: number;
  high: number;
  n: number;
}
export interface FalsePrediction {
  value: number;
  low: number;
  high: number;
  hours: number;
}

/**
 * Weight of the score on the clips that were chosen on, against what was left out. The one is too good, for the choice
 * is fitted to it; the other is too bad, for each choice saw less footage. On drawn sites the truth lay about a third of
 * the way from the second to the first.
 */
export const OWN_SCORE = 0.3;
/**
 * Visits caught again, against those of one sample: two samples of n, the one labelled and the one to come, each scattered,
 * would be twice the variance; that the choice would have been another is the rest, set on sites for building.
 */
const AGAIN = 2.1;
/** The scatter between units counts as if so many units had shown none beyond chance. */
const UNITS_OF_CALM = 4;
/** How far the rates of false triggers of two clips differ that bouts do not tell apart, as a share; two clips hardly show it. */
const DIFFER = 0.5;

/** Recall over as many visits again, from units left out in turn and `ownCaught` of them caught where all were used. */
export function predictRecall(units: readonly LeftOut[], ownCaught: number): RecallPrediction {
  const n = sum(units, (u) => u.visits);
  const leftOut = sum(units, (u) => u.caught);
  // Half a visit each way (Jeffreys): none caught in n is not none ever.
  const value = (OWN_SCORE * ownCaught + (1 - OWN_SCORE) * leftOut + 0.5) / (n + 1);
  const pooled = Math.min(Math.max(leftOut / n, 0.5 / n), 1 - 0.5 / n);
  const scatter = scatterOf(
    units.filter((u) => u.visits > 0),
    (u) => (u.caught - u.visits * pooled) ** 2 / (u.visits * pooled * (1 - pooled)),
  );
  const [low, high] = quantiles(betaBinomial(n, value, AGAIN * scatter), 0.05);
  return { value, low: low / n, high: high / n, n };
}

/**
 * False triggers an hour over as many watched hours again; `ownFalse` of them where all were used. The value is what is counted and half
 * a trigger (Jeffreys): half a bout more was on average too much, and none more too little (tests/evaluate/RECOMMENDATIONS.md).
 */
export function predictFalse(units: readonly LeftOut[], ownFalse: number): FalsePrediction {
  const hours = sum(units, (u) => u.watchedHours);
  const leftOut = sum(units, (u) => u.falseTriggers);
  const pooled = Math.max(leftOut, 0.5) / hours;
  const watched = units.filter((u) => u.watchedHours > 0);
  const scatter = scatterOf(
    watched,
    (u) => (u.falseTriggers - u.watchedHours * pooled) ** 2 / (u.watchedHours * pooled),
    scatterOfBouts(leftOut, { squares: sum(units, (u) => u.falseSquares) }),
  );
  const counted = OWN_SCORE * ownFalse + (1 - OWN_SCORE) * leftOut;
  // Half a bout in the interval: none seen is not none ever.
  const expected = counted + 0.5 * scatter;
  const inflation = inflationAgain(expected, scatter, watched.length);
  const [low, high] = quantiles(negativeBinomial(expected, inflation), 0.05);
  return { value: (counted + 0.5) / hours, low: low / hours, high: high / hours, hours };
}

/**
 * How much more than Poisson the false triggers of as much footage again scatter about what some footage lets expect, where
 * bouts alone scatter so much; a ratio of variances. Two samples, the one labelled and the one to come, each of as many
 * clips that differ: twice the variance of one.
 */
export function inflationAgain(expected: number, scatter: number, units: number): number {
  return 2 * (scatter + DIFFER ** 2 * (expected / units));
}

/**
 * How much more than chance the units scatter, as a ratio of variances, at least `least`: Pearson's chi-squared over its
 * degrees of freedom (McCullagh & Nelder 1989, section 4.5), drawn towards that for it is little known from few units.
 */
function scatterOf(units: readonly LeftOut[], square: (unit: LeftOut) => number, least = 1): number {
  const freedom = units.length - 1;
  return Math.max(least, (UNITS_OF_CALM * least + sum(units, square)) / (UNITS_OF_CALM + freedom));
}

function sum(units: readonly LeftOut[], of: (unit: LeftOut) => number): number {
  return units.reduce((total, unit) => total + of(unit), 0);
}
